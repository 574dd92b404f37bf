# SPDX-License-Identifier: GPL-3.0-or-later
# The standalone program from outside, on a display of its own and without a sound device: it cuts a program given on the
# command line, quits, and leaves a book whose rows are byte for byte those of the tool; what cannot be cut is refused in a
# sentence.
# Run: cmake -DSTANDALONE=Headland -DTOOL=headland -DWORK=folder -P Standalone.cmake

cmake_minimum_required(VERSION 3.25)

set(with_display "${CMAKE_CURRENT_LIST_DIR}/../../Support/with-display")
# Every output may be a cutter head: what JUCE has to try a device with a tone is not even in the program.
file(STRINGS "${STANDALONE}" tone REGEX "Plays a test tone")
if(tone)
    message(FATAL_ERROR "The standalone holds JUCE's panel that plays a test tone: ${tone}")
endif()

file(REMOVE_RECURSE "${WORK}")
file(MAKE_DIRECTORY "${WORK}")
execute_process(COMMAND "${TOOL}" demo --force "${WORK}/side.wav" OUTPUT_QUIET COMMAND_ERROR_IS_FATAL ANY)

# cut(outcome output_variable arguments...): the standalone with its settings in WORK; `outcome` is its exit code.
function(cut outcome output)
    execute_process(
        COMMAND "${with_display}" "${STANDALONE}" --settings "${WORK}/kept.settings" --cut --quit ${ARGN}
        TIMEOUT 60 RESULT_VARIABLE result OUTPUT_VARIABLE said ERROR_VARIABLE said)
    if(NOT result STREQUAL outcome)
        message(FATAL_ERROR "The standalone should end with ${outcome}, but ends with ${result}: ${said}")
    endif()
    set(${output} "${said}" PARENT_SCOPE)
endfunction()

execute_process(COMMAND "${TOOL}" cut "${WORK}/side.wav" --preset 17cm-45 --quiet --csv "${WORK}/tool.csv"
    OUTPUT_QUIET COMMAND_ERROR_IS_FATAL ANY)
file(SIZE "${WORK}/tool.csv" size)
if(size LESS 1000000)
    message(FATAL_ERROR "The tool's log is only ${size} bytes long: that is no side.")
endif()

# check_cut(number): the rows of this cut in the book are those of the tool.
function(check_cut number)
    set(rows "${WORK}/cut-${number}.csv")
    execute_process(COMMAND "${TOOL}" review "${WORK}/lantern.headland" ${number} --csv "${rows}"
        OUTPUT_VARIABLE review COMMAND_ERROR_IS_FATAL ANY)
    execute_process(COMMAND ${CMAKE_COMMAND} -E compare_files "${rows}" "${WORK}/tool.csv" RESULT_VARIABLE differs)
    if(differs)
        message(FATAL_ERROR "Cut ${number} of the standalone is not that of the tool: ${rows} and ${WORK}/tool.csv differ.")
    endif()
    foreach(words "Lantern Sessions, side A" "finished")
        if(NOT review MATCHES "${words}")
            message(FATAL_ERROR "The review of cut ${number} should say '${words}', but says: ${review}")
        endif()
    endforeach()
endfunction()

cut(0 said "${WORK}/side.wav" --preset 17cm-45 --book "${WORK}/lantern.headland" --job "Lantern Sessions" --side A)
check_cut(1)
# Book, job, side and set-up are remembered: the same again without naming them.
cut(0 said "${WORK}/side.wav")
check_cut(2)
file(GLOB beside "${WORK}/lantern.headland-*") # one file, nothing left beside it
if(beside)
    message(FATAL_ERROR "There should be nothing beside the book, but there is ${beside}.")
endif()

file(WRITE "${WORK}/text.headland" "This is a text and no book of cuts, whatever its name may be.")
cut(2 said "${WORK}/side.wav" --book "${WORK}/text.headland")
if(NOT said MATCHES "headland: [^\n]*text.headland")
    message(FATAL_ERROR "A file that is no book should be refused by name, but this is said: ${said}")
endif()
cut(2 said "${WORK}/side.wav" --job " ")
if(NOT said MATCHES "headland: The job has no name")
    message(FATAL_ERROR "A job without a name should be refused, but this is said: ${said}")
endif()

# A book that cannot be written: the cut is cut, and that it is not logged is said and told by the exit code.
file(MAKE_DIRECTORY "${WORK}/gone")
cut(0 said "${WORK}/side.wav" --book "${WORK}/gone/lantern.headland")
file(REMOVE_RECURSE "${WORK}/gone")
cut(2 said "${WORK}/side.wav")
if(NOT said MATCHES "headland: [^\n]*gone/lantern.headland[^\n]*not in it")
    message(FATAL_ERROR "A cut that is not in its book should be said, but this is said: ${said}")
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
