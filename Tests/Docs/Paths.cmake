# SPDX-License-Identifier: GPL-3.0-or-later
# Every path that README.md, DEVELOPERS.md and docs/ name must exist: what begins with a folder of the repository, counted
# from its root, and what a link points to, counted from the document.
# Run: cmake -DROOT=. -P Tests/Docs/Paths.cmake

cmake_minimum_required(VERSION 3.25)

set(problems "")
set(path_count 0)

# check_path(document shown path): adds to `problems` if there is no such file or folder.
function(check_path document shown path)
    math(EXPR path_count "${path_count} + 1")
    set(path_count ${path_count} PARENT_SCOPE)
    if(NOT EXISTS "${path}")
        set(problems "${problems}\n  ${document}: ${shown}" PARENT_SCOPE)
    endif()
endfunction()

set(folders "Source|Tests|Presets|docs|\\.ci")
file(GLOB_RECURSE documents RELATIVE "${ROOT}" "${ROOT}/docs/*.md")
foreach(document IN LISTS documents ITEMS README.md DEVELOPERS.md)
    file(READ "${ROOT}/${document}" text)
    cmake_path(GET document PARENT_PATH folder)
    string(REPLACE "](" " <link>" text "${text}")
    string(REGEX REPLACE "[][;\\]" " " text "${text}") # characters that would upset a CMake list

    string(REGEX MATCHALL "(^|[^A-Za-z0-9_./>-])(${folders})/[A-Za-z0-9_./-]*[A-Za-z0-9_/-]" found " ${text}")
    foreach(path IN LISTS found)
        string(REGEX REPLACE "^.*[^A-Za-z0-9_./>-](${folders})/" "\\1/" path "${path}")
        check_path(${document} "${path}" "${ROOT}/${path}")
    endforeach()

    string(REGEX MATCHALL "<link>[^)#: \n]+" found "${text}")
    foreach(path IN LISTS found)
        string(REPLACE "<link>" "" path "${path}")
        if(NOT path MATCHES "^https?$")
            check_path(${document} "${path}" "${ROOT}/${folder}/${path}")
        endif()
    endforeach()
endforeach()

if(problems)
    message(FATAL_ERROR "These documents name paths that do not exist:${problems}")
endif()
if(path_count EQUAL 0)
    message(FATAL_ERROR "No path found in the documents under ${ROOT}: nothing was checked.")
endif()
message(STATUS "${path_count} paths checked, all exist.")
