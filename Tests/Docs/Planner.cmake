# SPDX-License-Identifier: GPL-3.0-or-later
# Draws the pictures of docs/theory/planner.md, of two programs made by sox: one stroke out of silence, planned with the optimiser, by the
# floor alone, with half a turn of preview, the same after a rehearsal, and on a poor platter; and a tone that swells and ebbs, with
# and without a price on the pitch's travel.
# Run: cmake -DROOT=. -DTOOL=build/release/headland -DWORK=build/release/docs [-DWRITE=ON] -P Tests/Docs/Planner.cmake

cmake_minimum_required(VERSION 3.25)
include("${CMAKE_CURRENT_LIST_DIR}/Block.cmake")
include("${CMAKE_CURRENT_LIST_DIR}/Tables.cmake")

set(WORK "${WORK}/planner")
file(MAKE_DIRECTORY "${WORK}")
docs_run(ignored 0 ${CMAKE_COMMAND} -E chdir "${WORK}"
    sox -R -n -r 44100 -b 24 -c 2 stroke.wav synth 0.6 sine 55 gain -9 fade 0.005 0.6 0.55 pad 9 8)

docs_run(ignored 0 ${CMAKE_COMMAND} -E chdir "${WORK}"
    sox -R -n -r 44100 -b 24 -c 2 swell.wav synth 24 sine 70 sine 110 tremolo 1.7 60 gain -16)

# planner_picture(name program arguments of cut...)
function(planner_picture name program)
    docs_run(ignored 0 ${CMAKE_COMMAND} -E chdir "${WORK}" "${TOOL}" cut ${program}.wav ${ARGN} --picture ${name}.svg)
    docs_picture(docs/pictures/${name}.svg "${WORK}/${name}.svg")
endfunction()

planner_picture(planner-optimiser stroke)
planner_picture(planner-floor stroke --set pitch_optimiser=0)
planner_picture(planner-half-turn stroke --set preview_s=0.9)
planner_picture(planner-rehearsed stroke --set preview_s=0.9 --rehearse)
planner_picture(planner-guard stroke --set speed_tolerance=0.02)
planner_picture(planner-no-price swell --set steady_pitch_percent=0)
planner_picture(planner-steady swell --set steady_pitch_percent=4)

# The stroke's turn beside the one after it.
file(REMOVE "${WORK}/stroke.headland")
docs_run(ignored 0 ${CMAKE_COMMAND} -E chdir "${WORK}" "${TOOL}" cut stroke.wav --quiet --book stroke.headland)
docs_run(ignored 0 ${CMAKE_COMMAND} -E chdir "${WORK}"
    "${TOOL}" review stroke.headland 1 --quiet --groove 0:10.83 planner-pairing.svg)
docs_picture(docs/pictures/planner-pairing.svg "${WORK}/planner-pairing.svg")
