# SPDX-License-Identifier: GPL-3.0-or-later
# Who may include whom: one line a folder of Source, naming the folders it may include besides itself.
# Source/CMakeLists.txt links the core libraries by it; Tests/Architecture/Arrows.cmake checks every #include by it.

# The engine's folders, from the top down: C++ standard library only.
set(headland_core_folders Text Groove Disc Feed Plan Align Lathe Cut HandOff)

# Folders that may use nothing but the C++ standard library (and what their line below names), and headers of a library
# that one of them may use besides: UTF-8 is read by utfcpp, Fourier transforms are FFTW's.
set(headland_std_only_folders ${headland_core_folders} Demo)
set(headland_library_headers_Text utf8.h)
set(headland_library_headers_Align fftw3.h)

set(headland_arrows_Text "")
set(headland_arrows_Groove "")
set(headland_arrows_Disc "")
set(headland_arrows_Feed Groove)
set(headland_arrows_Plan Groove Disc Feed)
set(headland_arrows_Align Groove Disc Feed Plan)
set(headland_arrows_Lathe Groove Disc Feed Plan)
set(headland_arrows_Cut Text Groove Disc Feed Plan Lathe)
set(headland_arrows_HandOff Text Groove Disc Feed Plan Lathe Cut)
set(headland_arrows_Demo "")
set(headland_arrows_Files ${headland_core_folders})
set(headland_arrows_Log ${headland_core_folders} Files)
set(headland_arrows_Plugin ${headland_core_folders} Files Log)
set(headland_arrows_Editor ${headland_core_folders} Files Log)
set(headland_arrows_Assembly ${headland_core_folders} Files Log Plugin Editor)
set(headland_arrows_Console ${headland_core_folders} Files Log Demo)

# Headers the build writes, which have no folder in Source: who may include them.
set(headland_generated_Files HeadlandPresets.h)

set(headland_folders ${headland_core_folders} Demo Files Log Plugin Editor Assembly Console)
