# SPDX-License-Identifier: GPL-3.0-or-later
# The example job of docs/log/book.md, done with the tool on the demo side, and the tables of that page held against what
# the tool writes. Dates become one date, as no two runs have the same.
# Run: cmake -DROOT=. -DTOOL=build/release/headland -DWORK=build/release/docs [-DWRITE=ON] -P Tests/Docs/Book.cmake

cmake_minimum_required(VERSION 3.25)
include("${CMAKE_CURRENT_LIST_DIR}/Block.cmake")
include("${CMAKE_CURRENT_LIST_DIR}/Tables.cmake")

find_program(sqlite3 sqlite3 REQUIRED)
set(page docs/log/book.md)
file(REMOVE_RECURSE "${WORK}/book")
docs_demo_folder(book)

# told(name arguments... [AND arguments...]): the block of this name is what these runs of the tool look like.
function(told name)
    set(text "")
    set(arguments "")
    foreach(word IN LISTS ARGN ITEMS AND)
        if(NOT word STREQUAL "AND")
            list(APPEND arguments "${word}")
            continue()
        endif()
        docs_console(one ${arguments})
        string(APPEND text "${one}")
        set(arguments "")
    endforeach()
    string(REGEX REPLACE "20[0-9][0-9]-[0-9][0-9]-[0-9][0-9] [0-9][0-9]:[0-9][0-9] UTC" "2031-03-14 09:26 UTC" text "${text}")
    docs_block("${page}" "${name}" "```text\n${text}```\n")
endfunction()

set(where --book lantern.headland --job Lantern --side A)
told("rehearsing the example" fit demo.wav --quiet ${where})
told("the first cut of the example" cut demo.wav --quiet --set preview_s=0.9 ${where})
told("the second cut of the example"
    note lantern.headland 1 "bass drum" --at 1:36
    AND note lantern.headland 1 "bass drum out of silence" --edit 1
    AND cut demo.wav --quiet --answers 1 ${where})
told("the list of the example" review lantern.headland)
told("the review of the example" review lantern.headland 1 --groove 1:36.0 groove.svg --json review.json)

file(READ "${WORK}/review.json" json)
set(all "")
keys("")
list(FILTER all INCLUDE REGEX "^book\\.")
list(TRANSFORM all REPLACE "\\.(land|depth|level|control|preview|osc)_[a-z_]+$" ".*")
list(REMOVE_DUPLICATES all)
names(documented "${page}" "keys of the book")
set(empty book.events book.missing) # of this cut: nothing happened and nothing is missing
foreach(list IN LISTS empty)
    list(FIND all "${list}" found)
    if(found EQUAL -1)
        message(SEND_ERROR "${page}: ${list} should be empty in the example.")
    endif()
    list(FILTER documented EXCLUDE REGEX "^${list}\\.")
    list(REMOVE_ITEM all "${list}")
endforeach()
list(FILTER documented EXCLUDE REGEX "other_settings")
list(FILTER all EXCLUDE REGEX "other_settings")
list(SORT documented)
list(SORT all)
expect_same("${page}" "JSON keys" "${documented}" "${all}")

execute_process(COMMAND "${sqlite3}" lantern.headland "SELECT name FROM sqlite_schema WHERE type IN ('table', 'view')"
    WORKING_DIRECTORY "${WORK}" OUTPUT_VARIABLE tables COMMAND_ERROR_IS_FATAL ANY)
string(REGEX REPLACE "\n" ";" tables "${tables}")
list(REMOVE_ITEM tables "")
names(documented "${page}" tables)
list(SORT tables)
list(SORT documented)
expect_same("${page}" "tables" "${documented}" "${tables}")

docs_picture(docs/pictures/demo-groove.svg "${WORK}/groove.svg")
