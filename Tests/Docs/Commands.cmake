# SPDX-License-Identifier: GPL-3.0-or-later
# The commands the documents give: every `ctest … -R PATTERN` must find a test (with none, ctest says nothing and
# passes), every `--target NAME` must be a target, every `--preset NAME` of cmake, ctest or headland must be one.
# Run: cmake -DROOT=. -DTOOL=build/release/headland -DBUILD=build/release -P Tests/Docs/Commands.cmake

cmake_minimum_required(VERSION 3.25)

find_program(CTEST ctest REQUIRED)
set(text "")
file(GLOB_RECURSE documents "${ROOT}/docs/*.md")
foreach(document IN LISTS documents ITEMS "${ROOT}/README.md" "${ROOT}/DEVELOPERS.md")
    file(READ "${document}" one)
    string(APPEND text "${one}\n")
endforeach()

# found_all(result expression): what the expression's one group matches, each once; fails when it matches nowhere.
function(found_all result expression)
    string(REGEX MATCHALL "${expression}" matches "${text}")
    list(TRANSFORM matches REPLACE "^.*${expression}.*$" "\\1")
    list(REMOVE_DUPLICATES matches)
    if(NOT matches)
        message(FATAL_ERROR "The documents hold nothing like ${expression}: nothing was checked.")
    endif()
    set(${result} "${matches}" PARENT_SCOPE)
endfunction()

found_all(patterns "ctest[^\n`]* -R '([^'\n]+)'")
foreach(pattern IN LISTS patterns)
    execute_process(COMMAND "${CTEST}" --test-dir "${BUILD}" -N -R "${pattern}" OUTPUT_VARIABLE output)
    if(NOT output MATCHES "Total Tests: [1-9]")
        message(SEND_ERROR "No test is found by: ctest -R '${pattern}'")
    endif()
endforeach()

found_all(labels "ctest[^\n`]* -L ([a-z]+)")
foreach(label IN LISTS labels)
    execute_process(COMMAND "${CTEST}" --test-dir "${BUILD}" -N -L "^${label}$" OUTPUT_VARIABLE output)
    if(NOT output MATCHES "Total Tests: [1-9]")
        message(SEND_ERROR "No test is found by: ctest -L ${label}")
    endif()
endforeach()

found_all(targets "--target ([A-Za-z0-9_]+)")
foreach(target IN LISTS targets)
    file(STRINGS "${BUILD}/build.ninja" known REGEX "^build ${target}:")
    if(NOT known)
        message(SEND_ERROR "There is no target ${target}.")
    endif()
endforeach()

file(READ "${ROOT}/CMakePresets.json" presets)
execute_process(COMMAND "${TOOL}" presets OUTPUT_VARIABLE ownPresets)
found_all(names "--preset ([a-z0-9-]+)[^a-z0-9.-]") # not a file's name
foreach(name IN LISTS names)
    string(FIND "${presets}" "\"name\": \"${name}\"" inCMake)
    string(FIND "${ownPresets}" "\n${name}  (" inTool)
    if(inCMake EQUAL -1 AND inTool EQUAL -1)
        message(SEND_ERROR "There is no preset ${name}, neither of CMake nor of headland.")
    endif()
endforeach()
