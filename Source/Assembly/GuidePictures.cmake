# SPDX-License-Identifier: GPL-3.0-or-later
# Draws the pictures of docs/guide: the demo side in the standalone program, on a display of its own, from an empty window
# to a reviewed log. Nothing of it is drawn by hand, so that the pictures are those of the program as it is.
# Run: cmake -DSTANDALONE=Headland -DTOOL=headland -DWORK=folder -DOUT=folder -P GuidePictures.cmake

cmake_minimum_required(VERSION 3.25)

set(with_display "${CMAKE_CURRENT_LIST_DIR}/../../Tests/Support/with-display")
file(REMOVE_RECURSE "${WORK}")
file(MAKE_DIRECTORY "${WORK}" "${OUT}")
execute_process(COMMAND "${TOOL}" demo "${WORK}/demo.wav" OUTPUT_QUIET COMMAND_ERROR_IS_FATAL ANY)

# picture(name arguments...): the window as it is when all that the arguments ask for has been done.
function(picture name)
    execute_process(
        COMMAND "${with_display}" "${STANDALONE}" --settings "${WORK}/kept.settings"
                --width 1200 --height 750 --quit --picture "${OUT}/${name}.png" ${ARGN}
        WORKING_DIRECTORY "${WORK}" TIMEOUT 300 COMMAND_ERROR_IS_FATAL ANY)
    message(STATUS "${OUT}/${name}.png")
endfunction()

set(book --book "${WORK}/lantern.headland" --job "Lantern Sessions" --side A)
picture(1-empty)
picture(2-ready demo.wav ${book})
picture(3-set-up demo.wav --page set-up)
picture(4-cutting demo.wav --cut --hold-at 1:35.3)
picture(5-cut demo.wav --cut)
picture(6-preview demo.wav --cut --page preview)
# The same side with a quarter turn of preview is scrapped at the stroke; the tool cuts it into the same book.
execute_process(
    COMMAND "${TOOL}" cut "${WORK}/demo.wav" --set preview_s=0.45 --quiet ${book}
    OUTPUT_QUIET RESULT_VARIABLE result)
if(NOT result EQUAL 3) # a side that cannot be cut
    message(FATAL_ERROR "The side with a quarter turn of preview should be scrapped, but the tool ends with ${result}.")
endif()
picture(7-book --page book)
execute_process(COMMAND "${TOOL}" review "${WORK}/lantern.headland" OUTPUT_VARIABLE cuts COMMAND_ERROR_IS_FATAL ANY)
string(REGEX MATCHALL "\n *cut [0-9]+ " numbers "${cuts}")
list(LENGTH numbers last)
picture(8-review --review ${last})
