# SPDX-License-Identifier: GPL-3.0-or-later
# The VST3 plug-in in Debian's Ardour, without screen or sound card: scanned, loaded, set, saved, loaded again in another
# process, and a recording rendered through it. Ardour takes back the latency that a plug-in reports, so what is rendered
# is the recording, bit for bit and in its place, exactly if the plug-in's delay is the one it reports. (Rendered as a
# bounce: ardour7-export 7.3 by itself ends in a corrupted heap in one run of four, without any plug-in.)
# Run: cmake -DBUNDLE=Headland.vst3 -DWORK=folder -DRATE=48000 -P Ardour.cmake

cmake_minimum_required(VERSION 3.25)

find_program(lua ardour7-lua REQUIRED)
find_program(sox sox REQUIRED)
find_program(scanner ardour-vst3-scanner PATHS /usr/lib/ardour7 REQUIRED)

# Ardour sees nothing of the person's own: settings, caches and plug-ins are below WORK.
file(REMOVE_RECURSE "${WORK}")
file(MAKE_DIRECTORY "${WORK}/.vst3" "${WORK}/config" "${WORK}/cache")
file(GLOB binary RELATIVE "${BUNDLE}" "${BUNDLE}/Contents/*/Headland.so")
file(COPY "${BUNDLE}/" DESTINATION "${WORK}/.vst3/Headland.vst3")
execute_process(COMMAND touch -d yesterday "${WORK}/.vst3/Headland.vst3/${binary}" # Ardour takes no scan of a file
    COMMAND_ERROR_IS_FATAL ANY)                                                  # that has just been written
set(ENV{HOME} "${WORK}")
set(ENV{XDG_CONFIG_HOME} "${WORK}/config")
set(ENV{XDG_CACHE_HOME} "${WORK}/cache")
set(ENV{HEADLAND_SESSION} "${WORK}/session")
set(ENV{HEADLAND_RATE} ${RATE})
unset(ENV{DISPLAY})

# run(what command...): runs it and leaves what it said in `output`; fails when it cannot be run or takes too long.
function(run what)
    execute_process(COMMAND ${ARGN} OUTPUT_VARIABLE output ERROR_VARIABLE output RESULT_VARIABLE result TIMEOUT 60)
    if(NOT result EQUAL 0)
        message(FATAL_ERROR "${what} failed (${result}):\n${output}")
    endif()
    set(output "${output}" PARENT_SCOPE)
endfunction()

# read(what pattern variable): the first group of the pattern in `output`; fails when it is not there.
function(read what pattern variable)
    if(NOT output MATCHES "${pattern}")
        message(FATAL_ERROR "${what} should say '${pattern}', but says:\n${output}")
    endif()
    set(${variable} "${CMAKE_MATCH_1}" PARENT_SCOPE)
endfunction()

run("The scan" ${CMAKE_COMMAND} -E env "LD_LIBRARY_PATH=/usr/lib/ardour7" "${scanner}" -f -v "${WORK}/.vst3/Headland.vst3")
read("The scan" "Found Plugin: (Headland)" name)
read("The scan" "n_inputs=\"2\" n_outputs=\"2\" n_aux_inputs=\"2\" n_aux_outputs=\"2\" n_midi_inputs=\"(1)\"" inputs)
read("The scan" "uid=\"([0-9A-F]+)\" name=\"Headland\"" id)
set(ENV{HEADLAND_VST3_ID} "${id}")

run("Recording" "${lua}" "${CMAKE_CURRENT_LIST_DIR}/ArdourRecord.lua")
read("Recording" "headland default ([0-9.]+)" default)
read("Recording" "headland (saved)" saved)
run("Loading again" "${lua}" "${CMAKE_CURRENT_LIST_DIR}/ArdourReload.lua")
read("Loading again" "headland restored ([0-9.]+)" restored)
read("Loading again" "headland latency ([0-9]+)" latency)
read("Loading again" "headland (rendered)" rendered)
if(latency LESS RATE)
    message(SEND_ERROR "Headland makes the preview itself, a turn of it, but reports ${latency} samples at ${RATE} Hz.")
endif()
# What is ridden is never silently kept, and what is set up is no parameter that Ardour shows.
if(default EQUAL 0.25 OR NOT restored EQUAL default)
    message(SEND_ERROR "The land add was ${default}, set to 0.25 and saved; loaded again it is ${restored}.")
endif()

# Ardour fades in and out: what is compared lies a quarter of a second and more within.
set(raw -t raw -e floating-point -b 32)
set(files "${WORK}/session/interchange/session/audiofiles")
foreach(channel L R)
    file(GLOB recorded "${files}/Take*%${channel}.wav")
    run("sox" "${sox}" -V1 "${recorded}" ${raw} "${WORK}/recorded.raw" trim 0.25 1.5)
    run("sox" "${sox}" -V1 "${files}/rendered%${channel}.wav" ${raw} "${WORK}/rendered.raw" trim 0.25 1.5 stat)
    read("sox" "RMS +amplitude: +(0\\.0[1-9][0-9]*|0\\.[1-9][0-9]*)" level) # not silent
    file(SIZE "${WORK}/recorded.raw" bytes)
    math(EXPR wanted "${RATE} * 6") # 1.5 s, four bytes a sample
    if(NOT bytes EQUAL wanted)
        message(FATAL_ERROR "Ardour recorded too little: ${bytes} bytes.")
    endif()
    execute_process(COMMAND ${CMAKE_COMMAND} -E compare_files "${WORK}/rendered.raw" "${WORK}/recorded.raw"
        RESULT_VARIABLE differ)
    if(differ)
        message(SEND_ERROR "What Ardour renders through the plug-in is not what it recorded: rendered%${channel}.wav")
    endif()
endforeach()
message(STATUS "Land add ${default}, set, saved and again ${restored}; rendered as recorded at a latency of ${latency}.")
