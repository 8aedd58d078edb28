// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <limits>
#include <string>

namespace quoin::core {

/// One check of strength: what is asked of a place against what it bears, and how both were reckoned.
struct StrengthCheck {
    std::string name;    ///< "dowel sheared off"
    double demand = 0;   ///< in `unit`, never negative
    double capacity = 0; ///< in `unit`
    std::string unit;    ///< "MPa", "N mm"
    double safety = 0;   ///< capacity over demand; infinite when nothing is asked
    std::string formula; ///< with the numbers that went in
    std::string source;  ///< of the formula, and of the capacity where the caller knows it
};

inline StrengthCheck checked(std::string name, double demand, double capacity, std::string unit, std::string formula,
                             std::string source)
{
    StrengthCheck c{std::move(name),    demand > 0 ? demand : 0, capacity > 0 ? capacity : 0, std::move(unit), 0,
                    std::move(formula), std::move(source)};
    c.safety = c.demand > 0 ? c.capacity / c.demand : std::numeric_limits<double>::infinity();
    return c;
}

} // namespace quoin::core
