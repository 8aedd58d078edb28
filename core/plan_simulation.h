// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/machine.h"
#include "core/work_calendar.h"
#include "mesh/context.h"

#include <cstdint>
#include <optional>
#include <vector>

/// What may come of a plan: printed many times over with dice.
namespace quoin::core {

/// A plate in a machine's queue.
struct SimulatedPlate {
    double hours = 0; ///< on a machine of speed factor 1
    double grams = 0;
    double logSpread = 0; ///< standard deviation of the logarithm of true hours over estimated ones
    int urgency = 2;
    std::vector<char> machines; ///< which can print it
};

struct SimulatedMachine {
    const WorkTime* time = nullptr; ///< all with the same epoch
    double speedFactor = 1;
    long changeMinutes = 0;
    long freeFrom = 0;
    FailureRate failure;
    std::vector<std::size_t> queue; ///< plates, in their order
};

struct SimulationRules {
    int runs = 2000;
    std::uint64_t seed = 1;
    std::optional<long> deadline; ///< minute
    bool lendHands = true; ///< a machine that has nothing left takes the last plate of another when it is ready sooner
    bool waitForTests = false;
};

struct Simulation {
    int runs = 0;
    int kept = 0;             ///< runs that were ready by the deadline
    std::vector<long> finish; ///< minutes, rising, one for each run; LONG_MAX beyond the days ahead
    double meanFailures = 0;
    double meanLostHours = 0; ///< machine hours of failed prints
    double meanLostGrams = 0;

    double chance() const { return runs > 0 ? static_cast<double>(kept) / runs : 0; }
    /// Standard error of the chance: sqrt(p (1 - p) / n).
    double chanceError() const;
    /// The minute by which a share of the runs was ready.
    long readyBy(double share) const;
};

/// Each run draws one factor on all hours (estimates err together: the same machine, recipe and material), log-normal
/// with the plates' mean spread, and for every print whether and when it fails: by the hour at an exponential time, by
/// the print when it is done. A failed print is seen when somebody is there and begun again at once on the same
/// machine. Random numbers are ours, from std::mt19937_64, so that a seed gives the same answer everywhere.
/// When cancelled, the runs made so far.
Simulation simulate(const std::vector<SimulatedPlate>& plates, const std::vector<SimulatedMachine>& machines,
                    const SimulationRules& rules, const Context& context = {});

/// Standard deviation of the logarithm from where nine of ten come out.
double logSpreadOf(double low, double high);

} // namespace quoin::core
