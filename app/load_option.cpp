// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/load_option.h"

#include "core/force.h"
#include "core/length.h"

#include <array>
#include <charconv>
#include <cmath>
#include <functional>
#include <string_view>

namespace quoin::app {

namespace {

std::string_view trimmed(std::string_view text)
{
    while (!text.empty() && text.front() == ' ')
        text.remove_prefix(1);
    while (!text.empty() && text.back() == ' ')
        text.remove_suffix(1);
    return text;
}

/// Three texts between two commas.
std::optional<std::array<std::string_view, 3>> threeOf(std::string_view text)
{
    std::array<std::string_view, 3> out;
    for (std::size_t i = 0; i < 3; ++i) {
        const auto comma = text.find(',');
        if ((comma == std::string_view::npos) != (i == 2))
            return std::nullopt;
        out[i] = trimmed(text.substr(0, comma));
        if (i < 2)
            text.remove_prefix(comma + 1);
    }
    return out;
}

/// A number and what stands behind it.
std::optional<std::pair<double, std::string_view>> numberFrom(std::string_view text)
{
    if (text.size() > 1 && text[0] == '+' && text[1] != '-')
        text.remove_prefix(1);
    double number = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
    if (error != std::errc() || !std::isfinite(number))
        return std::nullopt;
    return std::pair{number, trimmed(text.substr(static_cast<std::size_t>(end - text.data())))};
}

std::optional<double> millimetresIn(std::string_view unit)
{
    const auto one = core::lengthMmFrom("1" + std::string(unit));
    return one ? std::optional(*one) : std::nullopt;
}

/// Three numbers, each with its unit or that of the last.
std::optional<mesh::Vec3> tripleFrom(std::string_view text,
                                     const std::function<std::optional<double>(std::string_view)>& unitSize)
{
    const auto parts = threeOf(text);
    const auto last = parts ? numberFrom((*parts)[2]) : std::nullopt;
    if (!last)
        return std::nullopt;
    double v[3];
    for (std::size_t i = 0; i < 3; ++i) {
        const auto number = numberFrom((*parts)[i]);
        const auto size = number ? unitSize(number->second.empty() ? last->second : number->second) : std::nullopt;
        if (!size)
            return std::nullopt;
        v[i] = number->first * *size;
    }
    return mesh::Vec3{v[0], v[1], v[2]};
}

} // namespace

bool LoadOptions::any() const
{
    return dynamic || fill || glue || limit || !gravity.empty() || !bolts.empty() || !forces.empty() || !held.empty();
}

void addLoadOptions(CLI::App& verb, LoadOptions& o)
{
    const auto grouped = [](CLI::Option* option) { option->group("Load (for the estimates of strength)"); };
    grouped(verb.add_option("--dynamic", o.dynamic, "Times own weight, for shocks (default 2)"));
    grouped(verb.add_option("--load", o.forces,
                            "Another force and its place, such as \"0,0,-50N@0,120,900mm\" (N, kN, kgf, lbf; any unit "
                            "of length; the scaled part's frame); may be repeated; none: no other force")
                ->allow_extra_args(false));
    grouped(verb.add_option("--held", o.held,
                            "Pieces that are fixed, by number: 1,4 (default, or 0: the one with the lowest foot)")
                ->delimiter(','));
    grouped(verb.add_option("--gravity", o.gravity, "Which way is down (default 0,0,-1)"));
    grouped(verb.add_option("--fill", o.fill, "Share of the volume that is printed (default 1: solid)"));
    grouped(verb.add_option("--glue", o.glue, "Strength of the glue in MPa (default 2; 0: none)"));
    grouped(verb.add_option("--bolts", o.bolts, "Class of bought bolts (default 8.8)"));
    grouped(verb.add_option("--limit", o.limit, "Warn below this safety (default 3)"));
}

Result<core::ExtraForce> forceFrom(const std::string& text)
{
    const auto at = text.find('@');
    const auto force = tripleFrom(std::string_view(text).substr(0, at), core::newtonsIn);
    const auto place =
        at == std::string::npos ? std::nullopt : tripleFrom(std::string_view(text).substr(at + 1), millimetresIn);
    if (!force || !place)
        return Problem{Reason::BadArgument,
                       "\"" + text + "\" is not a force at a place",
                       {},
                       {},
                       "Write the force (N, kN, kgf or lbf), @ and its place, as in --load \"0,0,-50N@0,120,900mm\"."};
    return core::ExtraForce{*place, *force, 0};
}

Result<core::LoadCase> loadWith(const LoadOptions& o, core::LoadCase load)
{
    load.dynamicFactor = o.dynamic.value_or(load.dynamicFactor);
    load.fillShare = o.fill.value_or(load.fillShare);
    load.glueMpa = o.glue.value_or(load.glueMpa);
    load.safetyLimit = o.limit.value_or(load.safetyLimit);
    if (!o.bolts.empty())
        load.boltClass = o.bolts;
    if (!o.held.empty())
        load.held = o.held == std::vector{0} ? std::vector<int>{} : o.held;
    if (!o.gravity.empty()) {
        const auto down = tripleFrom(
            o.gravity, [](std::string_view unit) { return unit.empty() ? std::optional(1.0) : std::nullopt; });
        if (!down)
            return Problem{Reason::BadArgument,
                           "\"" + o.gravity + "\" is not a direction",
                           {},
                           {},
                           "Write three numbers, as in --gravity 0,0,-1."};
        load.gravity = *down;
    }
    if (!o.forces.empty())
        load.extra.clear();
    if (o.forces == std::vector<std::string>{"none"})
        return load;
    for (const std::string& text : o.forces) {
        auto force = forceFrom(text);
        if (!force)
            return force.problem();
        load.extra.push_back(*force);
    }
    return load;
}

} // namespace quoin::app
