# SPDX-License-Identifier: GPL-3.0-or-later
# docs/settings.md holds what `headland settings` and `headland presets` print, as two Markdown tables.
# Run: cmake -DROOT=. -DTOOL=build/release/headland [-DWRITE=ON] -P Tests/Docs/Settings.cmake

cmake_minimum_required(VERSION 3.25)
include("${CMAKE_CURRENT_LIST_DIR}/Block.cmake")

# entries(result text): the tool's list as a CMake list, an entry each (what follows a blank line); semicolons in the
# text become <semicolon>, wrapped lines are joined, every paragraph of an entry stays a line.
function(entries result text)
    string(STRIP "${text}" text)
    string(REPLACE ";" "<semicolon>" text "${text}")
    string(REPLACE "|" "\\|" text "${text}")
    string(REPLACE "\n    Default: " "\n" text "${text}")
    string(REPLACE "\n    Sets " "\n" text "${text}")
    string(REGEX REPLACE "\\)\n    " ")\n" text "${text}")
    string(REPLACE "\n    " " " text "${text}")
    string(REPLACE "\n\n" ";" list "${text}")
    list(POP_FRONT list) # the line that introduces the list
    set(${result} "${list}" PARENT_SCOPE)
endfunction()

# table(result head expression row text): a Markdown table; `expression` takes an entry apart, `row` puts it together.
function(table result head expression row text)
    entries(list "${text}")
    set(lines "${head}\n")
    foreach(entry IN LISTS list)
        if(NOT entry MATCHES "${expression}")
            message(FATAL_ERROR "This entry of the tool's list is not of the expected form:\n${entry}")
        endif()
        string(REGEX REPLACE "${expression}" "${row}\n" line "${entry}")
        string(APPEND lines "${line}")
    endforeach()
    string(REPLACE "<semicolon>" ";" lines "${lines}")
    set(${result} "${lines}" PARENT_SCOPE)
endfunction()

docs_run(settings 0 "${TOOL}" settings)
table(text "| key | default | range | what it does | why this default |\n|---|---|---|---|---|"
    "^([a-z_]+)  \\(default ([^,\n]+), ([^\n]+)\\)\n([^\n]+)\n([^\n]+)$"
    "| `\\1` | \\2 | \\3 | \\4 | \\5 |" "${settings}")
docs_block(docs/settings.md "headland settings" "${text}")

docs_run(presets 0 "${TOOL}" presets)
table(text "| preset | what it is | about | sets |\n|---|---|---|---|"
    "^([a-z0-9-]+)  \\(([^\n]+)\\)\n([^\n]+)\n([^\n]+)$"
    "| `\\1` | \\2 | \\3 | `\\4` |" "${presets}")
docs_block(docs/settings.md "headland presets" "${text}")
