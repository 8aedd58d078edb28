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
    friend bool operator==(const Bed&, const Bed&) = default;
};

/// "300x300x400" (rectangular), "d250x300" (round: diameter x height), each with an optional "*2" for two machines; or
/// the name of one of `known`, which goes first. Lengths in mm, or each with its unit, or one unit after the last for
/// all ("30x30x40cm"). BadArgument otherwise, also for a length below 1 mm or above 100 m.
Result<Bed> bedFromText(std::string_view text, const std::vector<Bed>& known);

/// Generic sizes, named by their measure.
std::vector<Bed> shippedBeds();

/// "300x300x400" or "d250x300": the sizes in mm, as bedFromText reads them.
std::string sizeWords(const Bed& bed);

/// Whether a bed can be used: sizes from 1 mm to 100 m, a round one as deep as wide, 1 to 1000 machines. BadArgument.
Status checkBed(const Bed& bed);

/// The user's own beds: a small JSON file in the configuration folder ($XDG_CONFIG_HOME/quoin/beds.json, else
/// ~/.config/quoin/beds.json). A missing file is an empty list; a damaged one is a problem that names it, and is never
/// written over.
class BedShelf {
public:
    explicit BedShelf(std::filesystem::path file) : m_file(std::move(file)) {}
    static std::filesystem::path defaultFile();

    Result<std::vector<Bed>> own() const;
    /// Own beds first, then the shipped ones; a user's name hides a shipped one.
    Result<std::vector<Bed>> all() const;
    /// BadArgument when the name is taken by another own bed (unless replace), when it is no name ("*" and "," mean
    /// something on the command line), or when checkBed refuses.
    Status add(const Bed& bed, bool replace = false) const;
    /// BadArgument when there is no own bed of this name.
    Status remove(std::string_view name) const;

private:
    Status write(const std::vector<Bed>& beds) const;

    std::filesystem::path m_file;
};

} // namespace quoin::core
