// SPDX-License-Identifier: GPL-3.0-or-later
// The standalone program's application, for JUCE's wrapper to make. It belongs to the program, not to the library.

#include "Assembly/Application.h"

JUCE_CREATE_APPLICATION_DEFINE(headland::assembly::Application)
