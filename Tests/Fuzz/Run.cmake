# SPDX-License-Identifier: GPL-3.0-or-later
# Runs one fuzz target for HEADLAND_FUZZ_SECONDS (environment; 60 if it is not set), on its kept corpus and on what
# earlier runs have found. One allocation may take 64 MB, an input 10 s, unless the target's OPTIONS say otherwise.
set(seconds 60)
if(DEFINED ENV{HEADLAND_FUZZ_SECONDS})
    set(seconds "$ENV{HEADLAND_FUZZ_SECONDS}")
endif()
set(found "${WORK_DIR}/corpus/${NAME}")
file(MAKE_DIRECTORY "${found}" "${WORK_DIR}/findings")
if(EXISTS "${DICTIONARY}")
    set(dictionary "-dict=${DICTIONARY}")
endif()
execute_process(
    COMMAND "${PROGRAM}" "-max_total_time=${seconds}" -timeout=10 -rss_limit_mb=1024 -malloc_limit_mb=64
            -print_final_stats=1 "-artifact_prefix=${WORK_DIR}/findings/${NAME}-" ${dictionary} ${OPTIONS}
            "${found}" "${CORPUS}"
    RESULT_VARIABLE result)
if(NOT result EQUAL 0)
    message(FATAL_ERROR "fuzz.${NAME}: ${result}; the input is in ${WORK_DIR}/findings")
endif()
