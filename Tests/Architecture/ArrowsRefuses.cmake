# SPDX-License-Identifier: GPL-3.0-or-later
# Shows that Arrows.cmake refuses what it should: small wrong trees are written under WORK_DIR, and each must be refused
# with its file, line and included header; a right one must pass.

cmake_minimum_required(VERSION 3.25)

# expect(name file text outcome expected...): runs the check on a tree of this one file; `outcome` is PASS or FAIL, and
# the output must hold every string in `expected`.
function(expect name file text outcome)
    set(tree "${WORK_DIR}/${name}/Source")
    file(REMOVE_RECURSE "${tree}")
    file(WRITE "${tree}/${file}" "${text}")
    execute_process(
        COMMAND ${CMAKE_COMMAND} "-DSOURCE_DIR=${tree}" -P "${CMAKE_CURRENT_LIST_DIR}/Arrows.cmake"
        RESULT_VARIABLE result OUTPUT_VARIABLE output ERROR_VARIABLE output)
    string(REGEX REPLACE "[ \n]+" " " output "${output}")
    if(result EQUAL 0)
        set(found PASS)
    else()
        set(found FAIL)
    endif()
    if(NOT found STREQUAL outcome)
        message(SEND_ERROR "${name}: expected ${outcome}, found ${found}: ${output}")
    endif()
    foreach(expected IN LISTS ARGN)
        string(FIND "${output}" "${expected}" position)
        if(position EQUAL -1)
            message(SEND_ERROR "${name}: the output should say '${expected}', but is: ${output}")
        endif()
    endforeach()
endfunction()

expect(Right "Plan/Right.h" "// [x;\n#include \"Groove/Edges.h\"\n#include <vector>\n" PASS "2 includes checked")
expect(Generated "Files/Right.cpp" "#include \"HeadlandPresets.h\"\n" PASS "1 includes checked")
expect(GeneratedForAnother "Cut/Wrong.cpp" "#include \"HeadlandPresets.h\"\n" FAIL "Source/Cut/Wrong.cpp:1: HeadlandPresets.h")
expect(Below "Groove/Wrong.h" "#pragma once\n\n#include \"Plan/PitchPlanner.h\"\n" FAIL
    "Source/Groove/Wrong.h:3: Plan/PitchPlanner.h")
expect(Beside "Disc/Wrong.cpp" "// [x;\n\n  # include \"Groove/Edges.h\"\n" FAIL "Source/Disc/Wrong.cpp:3: Groove/Edges.h")
expect(Framework "Cut/Wrong.h" "#include <juce_core/juce_core.h>\n" FAIL "Source/Cut/Wrong.h:1: juce_core/juce_core.h")
expect(FrameworkQuoted "Cut/Wrong.h" "#include \"JuceHeader.h\"\n" FAIL "Source/Cut/Wrong.h:1: JuceHeader.h")
expect(Library "Text/Right.cpp" "#include <utf8.h>\n" PASS "1 includes checked")
expect(LibraryOfAnother "Cut/Wrong.cpp" "#include <utf8.h>\n" FAIL "Source/Cut/Wrong.cpp:1: utf8.h")
expect(Sibling "Feed/Wrong.h" "#include \"DelayLine.h\"\n" FAIL "Source/Feed/Wrong.h:1: DelayLine.h")
expect(Unknown "Elsewhere/New.h" "#include <vector>\n" FAIL "Source/Elsewhere: not named")
expect(Nothing "Plan/Empty.h" "// nothing\n" FAIL "nothing was checked")
