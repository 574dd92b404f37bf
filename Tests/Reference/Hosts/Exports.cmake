# SPDX-License-Identifier: GPL-3.0-or-later
# A plug-in shows its host the entry points of its format and nothing else of its own: two plug-ins that each carry a
# JUCE would share what both show. The standard library's templates are always shown, as weak symbols.
# Run: cmake -DLIBRARY=Headland.so "-DENTRIES=GetPluginFactory;ModuleEntry;ModuleExit" -P Exports.cmake

cmake_minimum_required(VERSION 3.25)

find_program(nm nm REQUIRED)
execute_process(COMMAND "${nm}" --dynamic --defined-only --format=posix "${LIBRARY}" OUTPUT_VARIABLE output
    COMMAND_ERROR_IS_FATAL ANY)
string(REGEX MATCHALL "[^\n]+ [^WV] [^\n]+" symbols "${output}")
list(TRANSFORM symbols REPLACE " .*" "")
list(FILTER symbols EXCLUDE REGEX "^_Z+N?St") # std::
list(FILTER symbols EXCLUDE REGEX "^(__bss_start|_edata|_end)$") # the linker's marks of where data lies, as libvorbis has them
list(SORT symbols)
list(SORT ENTRIES)
if(NOT symbols STREQUAL ENTRIES)
    message(FATAL_ERROR "${LIBRARY} should show ${ENTRIES}, but shows ${symbols}")
endif()
