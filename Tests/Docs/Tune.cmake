# SPDX-License-Identifier: GPL-3.0-or-later
# Tries the demo side at several preview delays with the tool and holds README.md and docs/tune.md against it: the printed
# examples, the picture and the JSON keys.
# Run: cmake -DROOT=. -DTOOL=build/release/headland -DWORK=build/release/docs [-DWRITE=ON] -P Tests/Docs/Tune.cmake

cmake_minimum_required(VERSION 3.25)
include("${CMAKE_CURRENT_LIST_DIR}/Block.cmake")
include("${CMAKE_CURRENT_LIST_DIR}/Tables.cmake")

docs_of_demo(report tune --picture tune.svg)
docs_block(README.md "the delays of the demo" "```text\n$ headland tune demo.wav\n${report}```\n")
docs_picture(docs/pictures/demo-tune.svg "${WORK}/tune.svg")

# With a delay left out, so that the list of those is not empty, and a shortfall at the first.
docs_console(sluggish tune demo.wav --preset lathe-sluggish --set preview_tolerance_s=0.47 --json tune.json)
docs_block(docs/tune.md "tune on a sluggish lathe" "```text\n${sluggish}```\n")
file(READ "${WORK}/tune.json" json)
expect_same_keys(docs/tune.md)
