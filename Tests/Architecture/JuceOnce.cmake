# SPDX-License-Identifier: GPL-3.0-or-later
# Every JUCE module is compiled once in a build folder, into headland_juce. Only JUCE's plug-in wrappers are compiled
# elsewhere: each of them once a format, nearly empty but for its own. Read from COMMANDS, what CMake wrote down for the
# compiler. Run: cmake -DCOMMANDS=build/release/compile_commands.json -P Tests/Architecture/JuceOnce.cmake

cmake_minimum_required(VERSION 3.25)

file(READ "${COMMANDS}" commands)
string(JSON count LENGTH "${commands}")
math(EXPR last "${count} - 1")
set(problems "")
set(seen "")
foreach(index RANGE ${last})
    string(JSON file GET "${commands}" ${index} file)
    cmake_path(GET file STEM name)
    if(NOT file MATCHES "/modules/juce_[a-z_0-9]+/juce_" OR name MATCHES "^juce_audio_plugin_client")
        continue()
    elseif(name IN_LIST seen)
        string(APPEND problems "\n  ${name} is compiled again")
    endif()
    list(APPEND seen ${name})
    string(JSON command GET "${commands}" ${index} command)
    if(NOT command MATCHES "CMakeFiles/headland_juce\\.dir/")
        string(APPEND problems "\n  ${name} is compiled outside headland_juce")
    endif()
endforeach()

foreach(module juce_core juce_gui_basics juce_audio_processors juce_audio_utils)
    if(NOT module IN_LIST seen)
        string(APPEND problems "\n  ${module} is not compiled at all, or not found by this check")
    endif()
endforeach()
if(problems)
    message(FATAL_ERROR "JUCE's modules should be compiled once, into headland_juce:${problems}\n"
                        "Link headland_juce, not a juce:: target.")
endif()
list(LENGTH seen count)
message(STATUS "${count} sources of JUCE, each compiled once.")
