# SPDX-License-Identifier: GPL-3.0-or-later
# The standalone program from outside, on a display of its own and without a sound device: it cuts a program given on the
# command line, quits, and leaves a log that is byte for byte that of the tool; what cannot be cut is refused in a sentence.
# Run: cmake -DSTANDALONE=Headland -DTOOL=headland -DWORK=folder -P Standalone.cmake

cmake_minimum_required(VERSION 3.25)

find_program(xvfb_run xvfb-run REQUIRED)
file(REMOVE_RECURSE "${WORK}")
file(MAKE_DIRECTORY "${WORK}/log")
execute_process(COMMAND "${TOOL}" demo "${WORK}/side.wav" OUTPUT_QUIET COMMAND_ERROR_IS_FATAL ANY)

# cut(outcome output_variable arguments...): the standalone with its settings in WORK; `outcome` is its exit code.
function(cut outcome output)
    execute_process(
        COMMAND "${xvfb_run}" -a "${STANDALONE}" --settings "${WORK}/kept.settings" --cut --quit ${ARGN}
        TIMEOUT 60 RESULT_VARIABLE result OUTPUT_VARIABLE said ERROR_VARIABLE said)
    if(NOT result STREQUAL outcome)
        message(FATAL_ERROR "The standalone should end with ${outcome}, but ends with ${result}: ${said}")
    endif()
    set(${output} "${said}" PARENT_SCOPE)
endfunction()

cut(0 said "${WORK}/side.wav" --preset 17cm-45 --log "${WORK}/log")
execute_process(COMMAND "${TOOL}" cut "${WORK}/side.wav" --preset 17cm-45 --quiet --csv "${WORK}/tool.csv"
    OUTPUT_QUIET COMMAND_ERROR_IS_FATAL ANY)
file(GLOB logs "${WORK}/log/cut-*.csv")
list(LENGTH logs count)
if(NOT count EQUAL 1)
    message(FATAL_ERROR "There should be one log in ${WORK}/log, but there are ${count}.")
endif()
file(SIZE "${WORK}/tool.csv" size)
if(size LESS 1000000)
    message(FATAL_ERROR "The tool's log is only ${size} bytes long: that is no side.")
endif()
execute_process(COMMAND ${CMAKE_COMMAND} -E compare_files "${logs}" "${WORK}/tool.csv" RESULT_VARIABLE differs)
if(differs)
    message(FATAL_ERROR "The log of the standalone is not that of the tool: ${logs} and ${WORK}/tool.csv differ.")
endif()
file(GLOB sheets "${WORK}/log/cut-*.json")
file(READ "${sheets}" sheet)
string(JSON end GET "${sheet}" end)
if(NOT end STREQUAL "finished")
    message(FATAL_ERROR "The cut should have finished, but the sheet says: ${end}")
endif()

# Folder of the log and set-up are remembered: the same again without naming them.
cut(0 said "${WORK}/side.wav")
file(GLOB logs "${WORK}/log/cut-*.csv")
list(LENGTH logs count)
if(NOT count EQUAL 2)
    message(FATAL_ERROR "The second cut should have been logged into the same folder, which holds ${count} logs.")
endif()
foreach(log IN LISTS logs)
    file(SHA256 "${log}" digest)
    list(APPEND digests "${digest}")
endforeach()
list(REMOVE_DUPLICATES digests)
list(LENGTH digests count)
if(NOT count EQUAL 1)
    message(FATAL_ERROR "The second cut's log differs from the first one's: the set-up was not remembered.")
endif()

cut(2 said "${WORK}/nothing.wav")
if(NOT said MATCHES "headland: [^\n]*nothing.wav")
    message(FATAL_ERROR "A file that is not there should be refused by name, but this is said: ${said}")
endif()
file(WRITE "${WORK}/bad.json" "{\"headland_preset\": 1, \"name\": \"bad\", \"settings\": {\"pitch_max_um\": 55}}")
cut(2 said "${WORK}/side.wav" --preset "${WORK}/bad.json")
if(NOT said MATCHES "headland: [^\n]*pitch_max_um")
    message(FATAL_ERROR "A set-up that cannot be cut with should be refused, but this is said: ${said}")
endif()

# Without a screen: one sentence, not a crash.
execute_process(COMMAND ${CMAKE_COMMAND} -E env --unset=DISPLAY "${STANDALONE}" --settings "${WORK}/kept.settings"
    TIMEOUT 60 RESULT_VARIABLE result OUTPUT_QUIET ERROR_VARIABLE said)
if(NOT result EQUAL 2 OR NOT said MATCHES "there is no screen")
    message(FATAL_ERROR "Without a screen the standalone should end with 2 and say why; it ended with ${result}: ${said}")
endif()
