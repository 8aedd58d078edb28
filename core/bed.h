// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/result.h"

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace quoin::core {

/// The room that a machine prints in: a box on a rectangular or round plate. mm.
struct Bed {
    enum class Shape { Rectangular, Round };
    std::string name; ///< "300x300x400" or what the user calls it
    Shape shape = Shape::Rectangular;
    double widthMm = 0;  ///< x; diameter when round
    double depthMm = 0;  ///< y; the same diameter when round
    double heightMm = 0; ///< z
    int machines = 1;    ///< how many of them are in the shop

    double volumeMm3() const;
};

/// "300x300x400" (rectangular), "d250x300" (round: diameter x height), each with an optional "*2" for two machines,
/// lengths in mm or with a unit; or the name of one of `known`. BadArgument otherwise.
Result<Bed> bedFromText(std::string_view text, const std::vector<Bed>& known);

/// Generic sizes, named by their measure.
std::vector<Bed> shippedBeds();

/// The user's own beds: a small JSON file in the configuration folder ($XDG_CONFIG_HOME/quoin/beds.json, else
/// ~/.config/quoin/beds.json). A missing file is an empty list; a damaged one is a problem that names it.
class BedShelf {
public:
    explicit BedShelf(std::filesystem::path file) : m_file(std::move(file)) {}
    static std::filesystem::path defaultFile();

    Result<std::vector<Bed>> own() const;
    /// Own beds first, then the shipped ones; a user's name hides a shipped one.
    Result<std::vector<Bed>> all() const;
    /// BadArgument when the name is taken by another own bed (unless replace), or the sizes are not positive.
    Status add(const Bed& bed, bool replace = false) const;
    Status remove(std::string_view name) const;

private:
    std::filesystem::path m_file;
};

} // namespace quoin::core
