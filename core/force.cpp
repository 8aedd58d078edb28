// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/force.h"

#include "core/hanging.h"

#include <charconv>
#include <cmath>
#include <string>

namespace quoin::core {

namespace {

constexpr double kgPerPound = 0.45359237; ///< international pound, exact

std::string_view trimmed(std::string_view text)
{
    while (!text.empty() && text.front() == ' ')
        text.remove_prefix(1);
    while (!text.empty() && text.back() == ' ')
        text.remove_suffix(1);
    return text;
}

} // namespace

std::optional<double> newtonsIn(std::string_view unit)
{
    if (unit.empty() || unit == "N")
        return 1;
    if (unit == "kN")
        return 1000;
    if (unit == "kgf")
        return gravityMPerS2;
    if (unit == "lbf")
        return kgPerPound * gravityMPerS2;
    return std::nullopt;
}

Result<double> newtonsFrom(std::string_view text)
{
    std::string_view typed = trimmed(text);
    if (typed.size() > 1 && typed[0] == '+' && typed[1] != '-')
        typed.remove_prefix(1);
    double number = 0;
    const auto [end, error] = std::from_chars(typed.data(), typed.data() + typed.size(), number);
    const auto unit = newtonsIn(trimmed(typed.substr(static_cast<std::size_t>(end - typed.data()))));
    if (error != std::errc() || !unit || !std::isfinite(number * *unit))
        return Problem{Reason::BadArgument,
                       "\"" + std::string(text) + "\" is not a force",
                       {},
                       {},
                       "Write newtons, such as 50, or a unit behind the number: N, kN, kgf or lbf."};
    return number * *unit;
}

} // namespace quoin::core
