# SPDX-License-Identifier: GPL-3.0-or-later
# Cuts the demo side with the tool and holds the documents against it: the printed examples, the picture, and the
# columns, flags, states and JSON keys that docs/cut-log-format.md names.
# Run: cmake -DROOT=. -DTOOL=build/release/headland -DWORK=build/release/docs [-DWRITE=ON] -P Tests/Docs/Demo.cmake

cmake_minimum_required(VERSION 3.25)
include("${CMAKE_CURRENT_LIST_DIR}/Block.cmake")

file(MAKE_DIRECTORY "${WORK}")
docs_run(ignored 0 ${CMAKE_COMMAND} -E chdir "${WORK}" "${TOOL}" demo demo.wav)
docs_run(summary 0 ${CMAKE_COMMAND} -E chdir "${WORK}"
    "${TOOL}" cut demo.wav --csv demo.csv --json demo.json --picture demo.svg)

# --- the printed examples ---

# console(result arguments...): how `headland arguments...` looks on a terminal, with its exit code if that is not 0.
function(console result)
    execute_process(COMMAND "${TOOL}" ${ARGN} WORKING_DIRECTORY "${WORK}"
        RESULT_VARIABLE code OUTPUT_VARIABLE output ERROR_VARIABLE complaint)
    list(JOIN ARGN " " command)
    set(text "$ headland ${command}\n${output}${complaint}")
    if(NOT code EQUAL 0)
        string(APPEND text "$ echo $?\n${code}\n")
    endif()
    set(${result} "${text}" PARENT_SCOPE)
endfunction()

docs_block(README.md "the summary of the demo" "```text\n$ headland cut demo.wav\n${summary}```\n")

console(sluggish cut demo.wav --quiet --preset lathe-sluggish)
console(short cut demo.wav --quiet --set preview_s=0.9)
console(single cut demo.wav --quiet --preset 17cm-45)
docs_block(README.md "other set-ups of the demo" "```text\n${sluggish}${short}${single}```\n")

console(refused cut demo.wav --set land_min_um=-4 --set pitch_min_um=500)
docs_block(README.md "a set-up that is refused" "```text\n${refused}```\n")

docs_run(help 0 "${TOOL}" --help)
string(REGEX MATCH "Exit codes.*\n\n" codes "${help}")
string(STRIP "${codes}" codes)
string(REGEX REPLACE "\n\n.*" "" codes "${codes}")
docs_block(README.md "exit codes" "```text\n${codes}\n```\n")

# estimate(result arguments...): the summary's line on the estimate.
function(estimate result)
    console(whole cut demo.wav ${ARGN})
    string(REGEX MATCH "^[^\n]*" command "${whole}")
    string(REGEX MATCH "\nEstimate[^\n]*(\n  [^\n]*)?" line "${whole}")
    set(${result} "${command} | grep Estimate${line}\n" PARENT_SCOPE)
endfunction()
estimate(known)
estimate(blind --set side_length_s=0)
docs_block(docs/theory/estimate.md "the estimate half way" "```text\n${known}${blind}```\n")

# --- the cut log ---

# names(result file what): the names in the first column of the table between the marks of `what`, as `name`.
function(names result file what)
    file(READ "${ROOT}/${file}" whole)
    string(FIND "${whole}" "<!-- table of ${what} -->" start)
    string(FIND "${whole}" "<!-- end of ${what} -->" end)
    math(EXPR length "${end} - ${start}")
    if(start EQUAL -1 OR length LESS 1)
        message(FATAL_ERROR "${file}: the marks around the table of ${what} are missing.")
    endif()
    string(SUBSTRING "${whole}" ${start} ${length} part)
    string(REGEX MATCHALL "\n\\| `[^`\n]+`" rows "${part}")
    list(TRANSFORM rows REPLACE "\n\\| `([^`]+)`" "\\1")
    set(${result} "${rows}" PARENT_SCOPE)
endfunction()

# expect_same(what documented written): the document names exactly what the tool writes, and in this order.
function(expect_same what documented written)
    if(documented STREQUAL written)
        return()
    endif()
    set(missing ${written})
    list(REMOVE_ITEM missing ${documented})
    set(invented ${documented})
    list(REMOVE_ITEM invented ${written})
    message(SEND_ERROR "docs/cut-log-format.md: the ${what} are not those the tool writes (or not in their order).\n"
                       "  Not documented: ${missing}\n  Not written: ${invented}\n  Written: ${written}")
endfunction()

file(READ "${WORK}/demo.csv" csv)
string(REGEX MATCH "^[^\r\n]*" header "${csv}")
string(REPLACE "," ";" columns "${header}")
names(documented docs/cut-log-format.md columns)
expect_same(columns "${documented}" "${columns}")

names(states docs/cut-log-format.md states)
foreach(state IN LISTS states)
    string(FIND "${csv}" ",${state}," found)
    if(found EQUAL -1)
        message(SEND_ERROR "docs/cut-log-format.md: no sector of the demo is in the state ${state}.")
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

# keys(path...): every key below this path of the JSON, joined by dots, into `all`; * is any element, setting or flag.
function(keys prefix)
    string(JSON type TYPE "${json}" ${ARGN})
    if(type STREQUAL "OBJECT" OR type STREQUAL "ARRAY")
        string(JSON length LENGTH "${json}" ${ARGN})
        set(wild "")
        if(type STREQUAL "ARRAY" OR prefix STREQUAL "settings." OR prefix STREQUAL "summary.flags.")
            set(wild "*")
            set(length 1)
        endif()
        foreach(i RANGE 1 ${length})
            math(EXPR index "${i} - 1")
            set(name ${index})
            if(type STREQUAL "OBJECT")
                string(JSON name MEMBER "${json}" ${ARGN} ${index})
            endif()
            set(shown ${name})
            if(wild)
                set(shown "${wild}")
            endif()
            keys("${prefix}${shown}." ${ARGN} ${name})
        endforeach()
    else()
        string(REGEX REPLACE "\\.$" "" key "${prefix}")
        list(APPEND all "${key}")
    endif()
    set(all "${all}" PARENT_SCOPE)
endfunction()
set(all "")
keys("")
names(documented docs/cut-log-format.md keys)
list(SORT documented) # CMake's JSON reader has sorted the other
list(SORT all)
expect_same("JSON keys" "${documented}" "${all}")

set(flags "")
string(JSON length LENGTH "${json}" summary flags)
math(EXPR last "${length} - 1")
foreach(i RANGE ${last})
    string(JSON flag MEMBER "${json}" summary flags ${i})
    list(APPEND flags "${flag}")
endforeach()
names(documented docs/cut-log-format.md flags)
list(SORT documented)
expect_same(flags "${documented}" "${flags}")

# --- the picture: its words and its frame must be the tool's; curves may differ in the last place between machines ---

set(picture "${ROOT}/docs/pictures/demo-cut.svg")
if(WRITE)
    file(COPY_FILE "${WORK}/demo.svg" "${picture}" ONLY_IF_DIFFERENT)
endif()
foreach(file IN ITEMS "${picture}" "${WORK}/demo.svg")
    file(READ "${file}" svg)
    string(REGEX REPLACE " d=\"[^\"]*\"" "" svg "${svg}")
    string(SHA256 hash "${svg}")
    list(APPEND hashes "${hash}")
endforeach()
list(REMOVE_DUPLICATES hashes)
list(LENGTH hashes differing)
if(NOT differing EQUAL 1)
    message(SEND_ERROR "docs/pictures/demo-cut.svg is not the picture the tool draws now; run: ${docs_refresh}")
endif()
