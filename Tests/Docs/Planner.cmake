# SPDX-License-Identifier: GPL-3.0-or-later
# Draws the pictures of docs/theory/planner.md: one stroke out of silence (made by sox), planned with the optimiser, by the
# floor alone, and with half a turn of preview.
# Run: cmake -DROOT=. -DTOOL=build/release/headland -DWORK=build/release/docs [-DWRITE=ON] -P Tests/Docs/Planner.cmake

cmake_minimum_required(VERSION 3.25)
include("${CMAKE_CURRENT_LIST_DIR}/Block.cmake")
include("${CMAKE_CURRENT_LIST_DIR}/Tables.cmake")

set(WORK "${WORK}/planner")
file(MAKE_DIRECTORY "${WORK}")
docs_run(ignored 0 ${CMAKE_COMMAND} -E chdir "${WORK}"
    sox -R -n -r 44100 -b 24 -c 2 stroke.wav synth 0.6 sine 55 gain -9 fade 0.005 0.6 0.55 pad 9 8)

# planner_picture(name arguments of cut...)
function(planner_picture name)
    docs_run(ignored 0 ${CMAKE_COMMAND} -E chdir "${WORK}" "${TOOL}" cut stroke.wav ${ARGN} --picture ${name}.svg)
    docs_picture(docs/pictures/${name}.svg "${WORK}/${name}.svg")
endfunction()

planner_picture(planner-optimiser)
planner_picture(planner-floor --set pitch_optimiser=0)
planner_picture(planner-half-turn --set preview_s=0.9)
