# SPDX-License-Identifier: GPL-3.0-or-later
# Mends what JUCE 7.0.5 writes about the LV2 plug-in, so that it is valid and tells a host the truth. After the build:
# cmake -DBUNDLE=Headland.lv2 -DURI=https://... -P MendLv2.cmake

cmake_minimum_required(VERSION 3.25)

# JUCE copies from every audio input without asking whether the host has connected it: none of them is optional.
file(READ "${BUNDLE}/dsp.ttl" text)
string(REGEX REPLACE "(lv2:symbol \"audio_in_[^]]*)\t\tlv2:portProperty lv2:connectionOptional ;\n" "\\1" mended "${text}")
file(WRITE "${BUNDLE}/dsp.ttl" "${mended}")

# Maintainer and release are a project's properties, and the property that holds a program's number must be defined.
file(APPEND "${BUNDLE}/manifest.ttl" "
@prefix doap: <http://usefulinc.com/ns/doap#> .
@prefix rdf: <http://www.w3.org/1999/02/22-rdf-syntax-ns#> .
<${URI}> a doap:Project .
<${URI}:Program> a rdf:Property ;
\trdfs:label \"program number\" ;
\trdfs:range xsd:int .
")
