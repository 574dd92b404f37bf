# SPDX-License-Identifier: GPL-3.0-or-later
# What is built without sanitizers only: the checks against the outside world, the hosts, the benchmarks.

pkg_check_modules(HEADLAND_CLP REQUIRED IMPORTED_TARGET clp) # the reference optimum's solver, in tests only
headland_add_tests(reference_tests LABEL reference COST 80 TOOL FOLDERS Reference LIBRARIES headland_console
    PkgConfig::HEADLAND_CLP)
add_subdirectory(Reference/Hosts)

headland_add_program(benchmarks FOLDERS Benchmark LIBRARIES headland_console headland_plugin)
set_target_properties(reference_tests benchmarks PROPERTIES UNITY_BUILD OFF) # each file has its own idea of a rate, a length
target_compile_definitions(benchmarks PRIVATE HEADLAND_TOOL="$<TARGET_FILE:headland>")
add_dependencies(benchmarks headland)
add_custom_target(benchmark
    COMMAND benchmarks --benchmark-samples 20
    USES_TERMINAL
    VERBATIM)

# What the window costs, on a display of its own.
add_executable(window_benchmark Benchmark/Window/Main.cpp)
target_link_libraries(window_benchmark PRIVATE headland_own_code headland_assembly headland_juce)
add_custom_target(benchmark_window
    COMMAND "${CMAKE_CURRENT_SOURCE_DIR}/Support/with-display" "$<TARGET_FILE:window_benchmark>" "${CMAKE_BINARY_DIR}/demo/demo.wav"
    USES_TERMINAL
    VERBATIM)
add_dependencies(benchmark_window window_benchmark demo)
list(APPEND taken_files "${CMAKE_CURRENT_SOURCE_DIR}/Benchmark/Window/Main.cpp")
