# SPDX-License-Identifier: GPL-3.0-or-later
# Keeps what the tool said inside the documents true. A document marks the place with two comment lines,
#   <!-- begin NAME --> and <!-- end NAME -->
# and docs_block() compares what stands between them; with -DWRITE=ON it puts the tool's words there instead.

set(docs_refresh "cmake --build build/release --target docs")

# docs_block(file name text): `text` must stand in `file` (relative to ROOT) between the marks of `name`.
function(docs_block file name text)
    file(READ "${ROOT}/${file}" whole)
    set(opening "<!-- begin ${name} -->\n")
    set(closing "<!-- end ${name} -->")
    string(FIND "${whole}" "${opening}" start)
    string(FIND "${whole}" "${closing}" end)
    if(start EQUAL -1 OR end LESS start)
        message(SEND_ERROR "${file}: the marks '<!-- begin ${name} -->' and '${closing}' are missing.")
        return()
    endif()
    string(LENGTH "${opening}" length)
    math(EXPR start "${start} + ${length}")
    math(EXPR length "${end} - ${start}")
    string(SUBSTRING "${whole}" ${start} ${length} present)
    if("${present}" STREQUAL "${text}")
        return()
    endif()
    if(WRITE)
        string(SUBSTRING "${whole}" 0 ${start} before)
        string(SUBSTRING "${whole}" ${end} -1 after)
        file(WRITE "${ROOT}/${file}" "${before}${text}${after}")
        message(STATUS "${file}: ${name} written anew.")
    else()
        message(SEND_ERROR "${file}: ${name} is not what the tool says now; run: ${docs_refresh}\n"
                           "The tool says:\n${text}\nThe document says:\n${present}")
    endif()
endfunction()

# docs_run(result COMMAND exit-code): runs a command that must end with this exit code; its standard output.
function(docs_run result code)
    execute_process(COMMAND ${ARGN} RESULT_VARIABLE ended OUTPUT_VARIABLE output ERROR_VARIABLE complaint)
    if(NOT ended EQUAL code)
        list(JOIN ARGN " " command)
        message(FATAL_ERROR "${command}: ended with ${ended}, not ${code}: ${complaint}")
    endif()
    set(${result} "${output}" PARENT_SCOPE)
endfunction()

# docs_demo_folder(command): makes WORK a folder of the command's own, with the demo side in it, which is written once for all
# scripts of a run (Program.cmake).
macro(docs_demo_folder command)
    set(demo "${WORK}/demo.wav")
    if(NOT EXISTS "${demo}")
        message(FATAL_ERROR "${demo} is missing; run Program.cmake, as the test docs.program does.")
    endif()
    string(APPEND WORK "/${command}")
    file(MAKE_DIRECTORY "${WORK}")
    file(CREATE_LINK "${demo}" "${WORK}/demo.wav" SYMBOLIC)
endmacro()

# docs_of_demo(result command arguments...): the standard output of `headland command demo.wav arguments...` on the demo
# side, in a folder of the command's own.
macro(docs_of_demo result command)
    docs_demo_folder(${command})
    docs_run(${result} 0 ${CMAKE_COMMAND} -E chdir "${WORK}" "${TOOL}" ${command} demo.wav ${ARGN})
endmacro()

# docs_console(result arguments...): how `headland arguments...` looks on a terminal, with its exit code if that is not 0.
function(docs_console result)
    execute_process(COMMAND "${TOOL}" ${ARGN} WORKING_DIRECTORY "${WORK}"
        RESULT_VARIABLE code OUTPUT_VARIABLE output ERROR_VARIABLE complaint)
    set(words ${ARGN})
    list(TRANSFORM words REPLACE "^(.* .*)$" "\"\\1\"") # as a person has to write it
    list(JOIN words " " command)
    set(text "$ headland ${command}\n${output}${complaint}")
    if(NOT code EQUAL 0)
        string(APPEND text "$ echo $?\n${code}\n")
    endif()
    set(${result} "${text}" PARENT_SCOPE)
endfunction()
