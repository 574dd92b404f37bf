# SPDX-License-Identifier: GPL-3.0-or-later
# Searches the demo side with the tool and holds the documents against it: the printed examples, the picture, and the
# keys that docs/fit-report.md names.
# Run: cmake -DROOT=. -DTOOL=build/release/headland -DWORK=build/release/docs [-DWRITE=ON] -P Tests/Docs/Fit.cmake

cmake_minimum_required(VERSION 3.25)
include("${CMAKE_CURRENT_LIST_DIR}/Block.cmake")
include("${CMAKE_CURRENT_LIST_DIR}/Tables.cmake")

docs_of_demo(report fit --json fit.json --picture fit.svg)

docs_block(README.md "the search for the demo's level" "```text\n$ headland fit demo.wav\n${report}```\n")

docs_console(land fit demo.wav --quiet --vary land)
docs_block(README.md "a search that finds nothing" "```text\n${land}```\n")

file(READ "${WORK}/fit.json" json)
expect_same_keys(docs/fit-report.md)

docs_picture(docs/pictures/demo-fit.svg "${WORK}/fit.svg")
