// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/material.h"
#include "mesh/result.h"

#include <array>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace quoin::core {

/// What goes into what. One for each kind of joint that a maker finds to behave differently on a printer:
/// round bores come out small, flat pockets less so, threads lean on their flanks, and a bought rod has no printing
/// error of its own.
enum class FitProcess { Dowel, Key, Thread, Rod };
inline constexpr std::array fitProcesses{FitProcess::Dowel, FitProcess::Key, FitProcess::Thread, FitProcess::Rod};
/// "dowel", "key", "thread", "rod".
std::string processName(FitProcess process);
/// "printed dowel in printed bore", "printed key in printed pocket", "printed thread", "bought rod in printed bore".
std::string processWords(FitProcess process);
/// From either of them. BadArgument.
Result<FitProcess> processFromText(std::string_view text);

/// Clearances per side in mm, for what they hold.
struct FitRow {
    std::string material; ///< "PLA"; empty: any. Compared without regard to case
    std::string machine;  ///< the maker's own name for it; empty: any. A row with a machine names its material too
    FitProcess process = FitProcess::Dowel;
    double freeMm = 0, slidingMm = 0, snugMm = 0, pressMm = 0; ///< from wide to tight; press may be negative
    std::string source;                                        ///< who says so, in words
    std::string date;                                          ///< ISO 8601; empty for shipped rows

    double clearanceMm(Fit fit) const;
    friend bool operator==(const FitRow&, const FitRow&) = default;
};

/// Whether the numbers can be used: each from -0.5 to 5 mm, press <= snug <= sliding <= free, texts of a sane length.
/// BadArgument names the field.
Status checkFitRow(const FitRow& row);

/// Shipped rows, all "common practice, no source". Dowels and keys: the material's clearances (core/material.cpp);
/// threads 0.10 mm more, kept within 0.2 to 0.5 mm; rods: as dowels, over the rod's nominal size, since what makes a
/// printed bore small is the bore. The last rows, of no material, hold the widest of each.
const std::vector<FitRow>& shippedFits();

/// The row that counts, and where it is from.
struct FoundFit {
    enum class Origin { OwnMachine, OwnMaterial, OwnProcess, Shipped, ShippedAnyMaterial };
    FitRow row;
    Origin origin = Origin::Shipped;
    /// "your own row for PLA on big one (coupon ...)" or "shipped row for PLA (common practice, no source)".
    std::string words() const;
};

/// The fits in force: the maker's own rows over the shipped ones. A plain value; changes make a new one.
class FitTable {
public:
    /// $XDG_CONFIG_HOME/quoin/fits.json, else ~/.config/quoin/fits.json.
    static std::filesystem::path defaultFile();
    /// A missing file is a table without own rows. A damaged one is a problem that names the file and the place in it
    /// (RFC 6901), VersionTooNew one of a later program.
    static Result<FitTable> load(const std::filesystem::path& file);
    /// Own rows only; written beside and renamed into place. FileUnwritable.
    Status save(const std::filesystem::path& file) const;

    const std::vector<FitRow>& own() const { return m_own; }
    /// With a row more, or another one in place of that for the same material, machine and process. BadArgument as
    /// checkFitRow.
    Result<FitTable> withRow(FitRow row) const;
    /// Without an own row. BadArgument when there is none for just these.
    Result<FitTable> withoutRow(std::string_view material, std::string_view machine, FitProcess process) const;

    /// The most specific row: own for material, machine and process; own for material and process; own for the process
    /// alone; shipped for the material; shipped for any material. Never without an answer.
    /// @param machine  empty when it isn't known: rows of a machine don't count then
    FoundFit lookup(std::string_view material, std::string_view machine, FitProcess process) const;

private:
    std::vector<FitRow> m_own;
};

/// Clearance per side in mm: the number that joints are made with.
double clearanceFor(const FitTable& table, std::string_view material, std::string_view machine, FitProcess process,
                    Fit fit);

/// A bore for a bought rod: the printed allowance on top of the rod's largest size.
struct RodBore {
    double clearanceMm = 0;  ///< per side, of the bore over the rod's nominal size
    double leastMm = 0;      ///< per side, about the largest rod of its class: the table's allowance
    double mostMm = 0;       ///< per side, about the smallest
    Fit loosest = Fit::Free; ///< the fit that the smallest rod has, by the same row
};

/// @param rodClass  ISO 286 class that the rod is bought to ("h9" drawn bar, "h6" ground shaft, "h11"); empty for one
///                  without, such as wood, which is taken as it is measured
/// @param diameterMm  nominal diameter of the rod
/// @return BadArgument for a class of a hole or an unknown one (core/iso286.h).
Result<RodBore> rodBore(const FitTable& table, std::string_view material, std::string_view machine, Fit fit,
                        std::string_view rodClass, double diameterMm);

} // namespace quoin::core
