# SPDX-License-Identifier: GPL-3.0-or-later
# Cuts the demo side with the tool and holds the documents against it: the printed examples, the picture, and the
# columns, flags, states and JSON keys that docs/cut-log-format.md names.
# Run: cmake -DROOT=. -DTOOL=build/release/headland -DWORK=build/release/docs [-DWRITE=ON] -P Tests/Docs/Demo.cmake

cmake_minimum_required(VERSION 3.25)
include("${CMAKE_CURRENT_LIST_DIR}/Block.cmake")
include("${CMAKE_CURRENT_LIST_DIR}/Tables.cmake")

docs_of_demo(summary cut --csv demo.csv --json demo.json --picture demo.svg)

# --- the printed examples ---

docs_block(README.md "the summary of the demo" "```text\n$ headland cut demo.wav\n${summary}```\n")

docs_console(sluggish cut demo.wav --quiet --preset lathe-sluggish)
docs_console(short cut demo.wav --quiet --set preview_s=0.9)
docs_console(single cut demo.wav --quiet --preset 17cm-45)
docs_block(README.md "other set-ups of the demo" "```text\n${sluggish}${short}${single}```\n")

docs_console(refused cut demo.wav --set land_min_um=-4 --set pitch_min_um=500)
docs_block(README.md "a set-up that is refused" "```text\n${refused}```\n")

docs_run(help 0 "${TOOL}" --help)
string(REGEX MATCH "Exit codes.*\n\n" codes "${help}")
string(STRIP "${codes}" codes)
string(REGEX REPLACE "\n\n.*" "" codes "${codes}")
docs_block(README.md "exit codes" "```text\n${codes}\n```\n")

# estimate(result arguments...): the summary's line on the estimate.
function(estimate result)
    docs_console(whole cut demo.wav ${ARGN})
    string(REGEX MATCH "^[^\n]*" command "${whole}")
    string(REGEX MATCH "\nEstimate[^\n]*(\n  [^\n]*)?" line "${whole}")
    set(${result} "${command} | grep Estimate${line}\n" PARENT_SCOPE)
endfunction()
estimate(known)
estimate(blind --set side_length_s=0)
docs_block(docs/theory/estimate.md "the estimate half way" "```text\n${known}${blind}```\n")

# --- the cut log ---

file(READ "${WORK}/demo.csv" csv)
string(REGEX MATCH "^[^\r\n]*" header "${csv}")
string(REPLACE "," ";" columns "${header}")
names(documented docs/cut-log-format.md columns)
expect_same(docs/cut-log-format.md columns "${documented}" "${columns}")

names(states docs/cut-log-format.md states)
set(processorOnly band) # documented as such: nobody tells `headland cut` to make one
foreach(state IN LISTS states)
    string(FIND "${csv}" ",${state}," found)
    if(found EQUAL -1 AND NOT state IN_LIST processorOnly)
        message(SEND_ERROR "docs/cut-log-format.md: no sector of the demo is in the state ${state}.")
    elseif(NOT found EQUAL -1 AND state IN_LIST processorOnly)
        message(SEND_ERROR "docs/cut-log-format.md: a sector of the demo is in the state ${state}, which it never is.")
    endif()
endforeach()
list(JOIN states "|" anyState)
string(REGEX REPLACE "\n[-0-9.,]*,(${anyState}),[^\n]*" "" rest "${csv}")
string(STRIP "${rest}" rest)
if(NOT rest STREQUAL header)
    string(SUBSTRING "${rest}" 0 1000 rest)
    message(SEND_ERROR "docs/cut-log-format.md: the log has rows in a state that is not documented:\n${rest}")
endif()

# rows(result start): the row whose time begins like this, and the two after it.
function(rows result start)
    string(FIND "${csv}" "\n${start}" at)
    if(at EQUAL -1)
        message(FATAL_ERROR "The demo's log has no row that begins with ${start}.")
    endif()
    string(SUBSTRING "${csv}" ${at} 2000 part)
    string(REGEX MATCH "^(\n[^\n]*)(\n[^\n]*)(\n[^\n]*)" part "${part}")
    string(REPLACE "\r" "" part "${part}")
    set(${result} "${part}" PARENT_SCOPE)
endfunction()
rows(beginning "0.0")
rows(opening "95.0")
rows(steep "200.0")
docs_block(docs/cut-log-format.md "rows of the demo"
    "```text\n${header}${beginning}\n…${opening}\n…${steep}\n```\n")

# --- the JSON ---

file(READ "${WORK}/demo.json" json)

expect_same_keys(docs/cut-log-format.md)

set(flags "")
string(JSON length LENGTH "${json}" summary flags)
math(EXPR last "${length} - 1")
foreach(i RANGE ${last})
    string(JSON flag MEMBER "${json}" summary flags ${i})
    list(APPEND flags "${flag}")
endforeach()
names(documented docs/cut-log-format.md flags)
list(SORT documented)
expect_same(docs/cut-log-format.md flags "${documented}" "${flags}")

docs_picture(docs/pictures/demo-cut.svg "${WORK}/demo.svg")
