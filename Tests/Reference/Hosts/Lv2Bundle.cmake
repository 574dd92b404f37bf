# SPDX-License-Identifier: GPL-3.0-or-later
# The LV2 bundle as strangers read it: sord_validate finds nothing wrong with it by the specifications of lv2-dev, lv2ls
# finds it, lv2info lists its ports, groups, latency and state.
# Run: cmake -DBUNDLE=Headland.lv2 -P Lv2Bundle.cmake

cmake_minimum_required(VERSION 3.25)

foreach(program sord_validate lv2ls lv2info)
    find_program(path_of_${program} ${program} REQUIRED)
endforeach()

# check(text what expected): every regular expression in `expected` is found in the text.
function(check text what)
    foreach(expected IN LISTS ARGN)
        if(NOT text MATCHES "${expected}")
            message(SEND_ERROR "${what} should say '${expected}', but says:\n${text}")
        endif()
    endforeach()
endfunction()

find_path(specifications core.lv2/lv2core.ttl PATHS /usr/lib/lv2 REQUIRED) # of lv2-dev
set(vocabularies "")
foreach(name atom buf-size core event instance-access midi options parameters patch port-groups port-props presets resize-port
        schemas state time ui units urid)
    file(GLOB files "${specifications}/${name}.lv2/*.ttl")
    if(NOT files)
        message(FATAL_ERROR "The LV2 specification ${name} is not in ${specifications}.")
    endif()
    list(APPEND vocabularies ${files})
endforeach()
file(GLOB data "${BUNDLE}/*.ttl")
execute_process(COMMAND sord_validate -l ${vocabularies} ${data} OUTPUT_VARIABLE output ERROR_VARIABLE output)
check("${output}" "sord_validate" "Found 0 errors among [0-9]+ files")

cmake_path(GET BUNDLE PARENT_PATH folder)
set(ENV{LV2_PATH} "${folder}:${specifications}")
execute_process(COMMAND lv2ls OUTPUT_VARIABLE output COMMAND_ERROR_IS_FATAL ANY)
check("${output}" "lv2ls" "https://headland.example/processor\n")

execute_process(COMMAND lv2info "https://headland.example/processor" OUTPUT_VARIABLE output COMMAND_ERROR_IS_FATAL ANY)
check("${output}" "lv2info" "Name: +Headland\n" "Has latency: +yes, reported by port 10\n" "ns/ext/state#interface")
foreach(number 1 2 3 4)
    check("${output}" "lv2info" "Symbol: +audio_in_${number}\n" "Symbol: +audio_out_${number}\n")
endforeach()
if(output MATCHES "audio_in_[0-9]\n[^\n]*\n[^\n]*\n[^\n]*\n[^\n]*connectionOptional")
    message(SEND_ERROR "An audio input says that it need not be connected, but the plug-in reads it: ${output}")
endif()
