# SPDX-License-Identifier: GPL-3.0-or-later
# Mends what JUCE 7.0.5 writes about the LV2 plug-in, so that it is valid and tells a host the truth. After the build:
# cmake -DBUNDLE=Headland.lv2 -DURI=https://... -P MendLv2.cmake

cmake_minimum_required(VERSION 3.25)

# JUCE copies from every audio input without asking whether the host has connected it: none of them is optional.
file(READ "${BUNDLE}/dsp.ttl" text)
string(REGEX REPLACE "(lv2:symbol \"audio_in_[^]]*)\t\tlv2:portProperty lv2:connectionOptional ;\n" "\\1" mended "${text}")

# Port properties are for ports, not for parameters.
string(REGEX REPLACE "\n\tlv2:portProperty lv2:enumeration [^\n]*" "" mended "${mended}")

# JUCE gives the values of a choice from 0 to 1, but its range, and what it takes, from 0 to count - 1.
string(REPLACE ";" "" lines "${mended}") # which would take the matches apart
string(REGEX MATCHALL "plug:[a-z0-9_]+\n\ta lv2:Parameter \n[^\n]*\n[^\n]*\n[^\n]*\n\tlv2:minimum 0 \n\tlv2:maximum [1-9]"
    choices "${lines}")
foreach(choice IN LISTS choices)
    string(REGEX REPLACE "\n.*" "" name "${choice}")
    string(FIND "${mended}" "${name}\n\ta lv2:Parameter" begin)
    string(SUBSTRING "${mended}" 0 ${begin} done)
    string(SUBSTRING "${mended}" ${begin} -1 rest)
    string(FIND "${rest}" "] .\n" end)
    set(number 0)
    string(FIND "${rest}" "rdf:value " place)
    while(place GREATER -1 AND place LESS end)
        math(EXPR after "${place} + 10") # what is found is ten characters long
        string(SUBSTRING "${rest}" 0 ${after} text)
        string(SUBSTRING "${rest}" ${after} -1 rest)
        string(REGEX REPLACE "^[0-9.e-]+" "${number}" rest "${rest}")
        string(APPEND done "${text}")
        math(EXPR number "${number} + 1")
        string(FIND "${rest}" "rdf:value " place)
        string(FIND "${rest}" "] .\n" end)
    endwhile()
    set(mended "${done}${rest}")
endforeach()
file(WRITE "${BUNDLE}/dsp.ttl" "${mended}")

# Of the window: a feature is no extension data, and extension data no feature.
file(READ "${BUNDLE}/ui.ttl" text)
string(REPLACE "\t\tui:noUserResize ,\n" "" mended "${text}")
string(REPLACE "\t\tui:resize ,\n\t\topts:interface ,\n" "\t\tui:resize ,\n" mended "${mended}")
file(WRITE "${BUNDLE}/ui.ttl" "${mended}")

# Maintainer and release are a project's properties, and the property that holds a program's number must be defined.
file(APPEND "${BUNDLE}/manifest.ttl" "
@prefix doap: <http://usefulinc.com/ns/doap#> .
@prefix rdf: <http://www.w3.org/1999/02/22-rdf-syntax-ns#> .
<${URI}> a doap:Project .
<${URI}:Program> a rdf:Property ;
\trdfs:label \"program number\" ;
\trdfs:range xsd:int .
")
