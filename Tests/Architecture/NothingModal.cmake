# SPDX-License-Identifier: GPL-3.0-or-later
# Nothing of the window is modal, nothing takes Escape from the stylus, and nothing plays a tone: what JUCE has for that is not
# named anywhere in the window or the standalone. Only ChoiceBox makes a ComboBox (its list is ours) and only LineEditor a
# TextEditor (its menu is off); others may refer to them.
# Run: cmake -DSOURCE_DIR=Source -P Tests/Architecture/NothingModal.cmake

cmake_minimum_required(VERSION 3.25)

cmake_path(ABSOLUTE_PATH SOURCE_DIR)
set(never "AlertWindow|DialogWindow|NativeMessageBox|FileChooser|FileBrowserComponent|PopupMenu([^E]|$)|CallOutBox|enterModalState|runModalLoop|ModalComponentManager|AudioDeviceSelectorComponent|playTestSound|ToneGenerator|StandaloneFilterWindow|StandalonePluginHolder")
set(problems "")
set(count 0)
file(GLOB_RECURSE files RELATIVE "${SOURCE_DIR}" "${SOURCE_DIR}/Editor/*.h" "${SOURCE_DIR}/Editor/*.cpp"
    "${SOURCE_DIR}/Assembly/*.h" "${SOURCE_DIR}/Assembly/*.cpp" "${SOURCE_DIR}/Plugin/*.h" "${SOURCE_DIR}/Plugin/*.cpp")
foreach(file IN LISTS files)
    file(READ "${SOURCE_DIR}/${file}" text)
    string(REGEX REPLACE "[][;\\]" " " text "${text}") # characters that would upset a CMake list
    string(REPLACE "\n" ";" lines "${text}")
    set(line_number 0)
    foreach(line IN LISTS lines)
        math(EXPR line_number "${line_number} + 1")
        math(EXPR count "${count} + 1")
        string(REGEX REPLACE "//.*" "" line "${line}")
        set(why "")
        if(line MATCHES "(${never})")
            set(why "${CMAKE_MATCH_1} is modal, takes Escape, or plays a tone; open a Sheet of the window's own")
        elseif(line MATCHES "juce::ComboBox [a-z]|juce::ComboBox>|public juce::ComboBox" AND NOT file STREQUAL "Editor/ChoiceBox.h")
            set(why "a ComboBox's menu is modal; use ChoiceBox")
        elseif(line MATCHES "juce::TextEditor [a-z]|juce::TextEditor>|public juce::TextEditor|setPopupMenuEnabled" AND NOT file STREQUAL "Editor/LineEditor.h")
            set(why "a TextEditor's menu is modal; use LineEditor")
        endif()
        if(why)
            string(APPEND problems "\n  Source/${file}:${line_number}: ${why}")
        endif()
    endforeach()
endforeach()
if(problems)
    message(FATAL_ERROR "The window must never keep a person from lifting, nor play anything:${problems}")
endif()
if(count LESS 1000)
    message(FATAL_ERROR "Only ${count} lines found under ${SOURCE_DIR}: nothing was checked.")
endif()
message(STATUS "${count} lines, none of them modal.")
