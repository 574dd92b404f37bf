# SPDX-License-Identifier: GPL-3.0-or-later
# Shows that Paths.cmake refuses what it should: small trees are written under WORK, each with one README.md.

cmake_minimum_required(VERSION 3.25)

# expect(name text outcome expected): runs the check on a tree whose README.md is `text`; the output must hold `expected`.
function(expect name text outcome expected)
    set(tree "${WORK}/${name}")
    file(REMOVE_RECURSE "${tree}")
    file(WRITE "${tree}/README.md" "${text}")
    file(WRITE "${tree}/DEVELOPERS.md" "none\n")
    file(WRITE "${tree}/docs/page.md" "none\n")
    file(WRITE "${tree}/Source/Plan/Right.h" "// nothing\n")
    execute_process(
        COMMAND ${CMAKE_COMMAND} "-DROOT=${tree}" -P "${CMAKE_CURRENT_LIST_DIR}/Paths.cmake"
        RESULT_VARIABLE result OUTPUT_VARIABLE output ERROR_VARIABLE output)
    string(REGEX REPLACE "[ \n]+" " " output "${output}")
    set(found FAIL)
    if(result EQUAL 0)
        set(found PASS)
    endif()
    string(FIND "${output}" "${expected}" position)
    if(NOT found STREQUAL outcome OR position EQUAL -1)
        message(SEND_ERROR "${name}: expected ${outcome} with '${expected}', found ${found}: ${output}")
    endif()
endfunction()

expect(Right "See `Source/Plan/Right.h`, Source/Plan and [a page](docs/page.md#part).\n" PASS "checked")
expect(Gone "See `Source/Plan/Gone.h`; well.\n" FAIL "README.md: Source/Plan/Gone.h")
expect(InCommand "    cat Tests/Nowhere/at_all.txt | less\n" FAIL "README.md: Tests/Nowhere/at_all.txt")
expect(AfterLink "See [docs/page.md](docs/page.md) and `Source/Plan/Gone.h`.\n" FAIL "README.md: Source/Plan/Gone.h")
expect(Link "See [a page](other/page.md).\n" FAIL "README.md: other/page.md")
expect(SecondLink "See [a](docs/page.md), [b](docs/gone.md).\n" FAIL "README.md: docs/gone.md")
expect(EndOfSentence "It is in Source/Plan/Right.h.\n" PASS "1 paths checked")
expect(Elsewhere "See [there](https://example.org/docs/x) and build/release/docs/x.\n" FAIL "nothing was checked")
