// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/json_place.h"
#include "core/load_case.h"

namespace quoin::core {

/// A load case for design, project and strength files; units in the keys.
nlohmann::json toJson(const LoadCase& load);

/// Reads it back and checks every value; JsonPlace::Wrong names the place. That the pieces it names are there is
/// checkLoadCase's business (core/hanging.h): designs don't know their pieces.
LoadCase loadCaseFrom(const JsonPlace& place);

/// The load of the document that `place` is; the usual one where none was written.
LoadCase loadCaseIn(const JsonPlace& place);

} // namespace quoin::core
