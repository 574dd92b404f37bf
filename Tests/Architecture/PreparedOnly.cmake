# SPDX-License-Identifier: GPL-3.0-or-later
# SQL is prepared statements with values bound to them, never text with values written into it: only Database.cpp calls
# SQLite's functions, none calls those that run text, and no literal of SQL ends where a value would follow in quotes.
# Run: cmake -DSOURCE_DIR=Source -P Tests/Architecture/PreparedOnly.cmake

cmake_minimum_required(VERSION 3.25)

cmake_path(ABSOLUTE_PATH SOURCE_DIR)
set(problems "")
set(prepares 0)
file(GLOB_RECURSE files RELATIVE "${SOURCE_DIR}" "${SOURCE_DIR}/*.h" "${SOURCE_DIR}/*.cpp")
foreach(file IN LISTS files)
    file(READ "${SOURCE_DIR}/${file}" text)
    string(REGEX REPLACE "[][;\\]" " " text "${text}") # characters that would upset a CMake list
    string(REPLACE "\n" ";" lines "${text}")
    set(line_number 0)
    foreach(line IN LISTS lines)
        math(EXPR line_number "${line_number} + 1")
        set(why "")
        if(line MATCHES "sqlite3_(exec|get_table|mprintf|vmprintf|snprintf|str_append)")
            set(why "runs or makes SQL as text; prepare a statement and bind the values")
        elseif(line MATCHES "sqlite3_prepare" AND NOT file STREQUAL "Log/Database.cpp")
            set(why "prepares past Log/Database.h")
        elseif(line MATCHES "(SELECT|INSERT|UPDATE|DELETE|WHERE|VALUES|SET)[^\"]*(=|LIKE|\\()[ ]*'?\"[ ]*\\+" AND NOT file STREQUAL "Log/BookSchema.cpp")
            set(why "writes a value into SQL; put a ? there and bind it") # BookSchema.cpp has names of its own only
        endif()
        if(line MATCHES "sqlite3_prepare")
            math(EXPR prepares "${prepares} + 1")
        endif()
        if(why)
            string(APPEND problems "\n  Source/${file}:${line_number}: ${why}")
        endif()
    endforeach()
endforeach()
if(problems)
    message(FATAL_ERROR "SQL that is not prepared statements only:${problems}")
endif()
if(prepares EQUAL 0)
    message(FATAL_ERROR "Nothing under ${SOURCE_DIR} prepares a statement: nothing was checked.")
endif()
message(STATUS "SQL in prepared statements only.")
