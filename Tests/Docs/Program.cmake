# SPDX-License-Identifier: GPL-3.0-or-later
# Writes the demo side that the other scripts here cut.
# Run: cmake -DROOT=. -DTOOL=build/release/headland -DWORK=build/release/docs -P Tests/Docs/Program.cmake

cmake_minimum_required(VERSION 3.25)
include("${CMAKE_CURRENT_LIST_DIR}/Block.cmake")

file(MAKE_DIRECTORY "${WORK}")
docs_run(ignored 0 "${TOOL}" demo --force "${WORK}/demo.wav")
