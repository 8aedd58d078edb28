// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/load_case.h"
#include "mesh/result.h"

#include <CLI/CLI.hpp>
#include <optional>
#include <string>
#include <vector>

namespace quoin::app {

/// What the command line says about the load; the rest stays as it is.
struct LoadOptions {
    std::optional<double> dynamic, fill, glue, limit;
    std::string gravity, bolts;
    std::vector<std::string> forces; ///< "none" alone: none
    std::vector<int> held;           ///< 0 alone: the one with the lowest foot
    /// Whether anything was said.
    bool any() const;
};

/// Options --dynamic, --load, --held and so on, in a group of their own.
void addLoadOptions(CLI::App& verb, LoadOptions& options);

/// "0,0,-50N@0,120,900mm": a force and its place. Numbers without a unit have that of the last of their three; without
/// any, N and mm. BadArgument in words.
Result<core::ExtraForce> forceFrom(const std::string& text);

/// A load with what the options say instead; forces and held pieces replace all that there were. BadArgument in words.
/// Whether it makes sense for a part is core::checkLoadCase's business.
Result<core::LoadCase> loadWith(const LoadOptions& options, core::LoadCase load);

} // namespace quoin::app
