// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/bed.h"
#include "core/work_calendar.h"

#include <nlohmann/json.hpp>

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

/// The machines of a shop and what is on its shelf.
namespace quoin::core {

class JsonPlace;

/// How often prints fail. Either a rate for each hour of printing (failures come at any time and as often in each hour:
/// the time to the first is exponential), or a chance for each print, whatever its length (found when it is done).
struct FailureRate {
    enum class Per { Hour, Print };
    Per per = Per::Hour;
    double rate = 0.002; ///< common practice, no source: about one in twenty of prints that take a day
    friend bool operator==(const FailureRate&, const FailureRate&) = default;

    /// Chance that a print of so many hours fails.
    double chance(double hours) const;
    /// Mean machine hours until it has come out, begun again each time: (e^(rate h) - 1) / rate when failures come at
    /// any time (the mean of a geometric number of exponential times cut at h), h / (1 - rate) for each print.
    double meanHours(double hours) const;
    /// Mean number of failures before it comes out: chance / (1 - chance).
    double meanFailures(double hours) const;
};

/// One machine.
struct Machine {
    std::string name;
    Bed bed;                            ///< its own, `machines` of it is 1
    double marginMm = 5;                ///< of the plate, kept free all round, and of the height
    double gapMm = 8;                   ///< between pieces on one plate
    double nozzleMm = 0;                ///< prints only recipes of this nozzle; 0: any
    std::vector<std::string> materials; ///< that it can print; none: any
    double speedFactor = 1;             ///< hours of a piece are divided by this: 1.2 prints a fifth more in an hour
    double costPerHour = 0;             ///< wear and room, in the maker's money
    double powerW = 0;                  ///< mean while printing; 0: as the recipe says
    WorkCalendar calendar = WorkCalendar::working(8, 18);
    double changeMinutes = 20;      ///< to clear the plate and begin the next print
    double spoolChangeMinutes = 10; ///< to change a spool
    FailureRate failure;
    friend bool operator==(const Machine&, const Machine&) = default;
};

/// Filament on the shelf.
struct SpoolStock {
    std::string material;
    int spools = 0; ///< full ones
    double spoolGrams = 1000;
    double openGrams = 0;  ///< left on the one in use
    double pricePerKg = 0; ///< 0: not known
    double grams() const { return spools * spoolGrams + openGrams; }
    friend bool operator==(const SpoolStock&, const SpoolStock&) = default;
};

/// Everything that plans are made with and that the maker keeps from one job to the next.
struct Shop {
    std::vector<Machine> machines;
    std::vector<SpoolStock> stock;
    const Machine* machine(std::string_view name) const; ///< any case; null when there is none
    const SpoolStock* spools(std::string_view material) const;
    friend bool operator==(const Shop&, const Shop&) = default;
};

/// Whether a machine can be used. BadArgument names the field, its bounds and the remedy.
Status checkMachine(const Machine& machine);
Status checkStock(const SpoolStock& stock);

/// A machine in a sentence: "300 x 300 x 400 mm, attended mon-fri 8-18, runs at night, ...".
std::string machineWords(const Machine& machine);

nlohmann::json machineJson(const Machine& machine);
/// JsonPlace::Wrong names the place.
Machine machineFrom(const JsonPlace& place);
nlohmann::json stockJson(const SpoolStock& stock);
SpoolStock stockFrom(const JsonPlace& place);

/// $XDG_CONFIG_HOME/quoin/machines.json, else ~/.config/quoin/machines.json.
std::filesystem::path machinesFile();
/// A missing file is an empty shop. A damaged one is a problem that names the file and the place in it (RFC 6901) and
/// is never written over; VersionTooNew.
Result<Shop> loadShop(const std::filesystem::path& file);
Status saveShop(const Shop& shop, const std::filesystem::path& file);

// Edits: the shop that results. BadArgument.
Result<Shop> withMachine(const Shop& shop, const Machine& machine); ///< more, or in place of that of the same name
Result<Shop> withoutMachine(const Shop& shop, std::string_view name);
Result<Shop> withStock(const Shop& shop, const SpoolStock& stock); ///< of a material; all zero takes it off the list

} // namespace quoin::core
