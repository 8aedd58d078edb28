// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/machine.h"

#include "core/same_word.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>

namespace quoin::core {

namespace {

constexpr std::size_t longestName = 100;

Problem refused(const std::string& what, const std::string& remedy)
{
    return {Reason::BadArgument, what, {}, {}, remedy};
}

Status checkNumber(const char* field, double value, double low, double high, const char* unit)
{
    if (value >= low && value <= high) // not for NaN
        return Done{};
    return refused(fmt::format("the {} of a machine can't be {:g}{}", field, value, unit),
                   fmt::format("Give {:g} to {:g}{}.", low, high, unit));
}

bool isName(const std::string& text)
{
    return !text.empty() && text.size() <= longestName && text.front() != ' ' && text.back() != ' ' &&
           std::none_of(text.begin(), text.end(),
                        [](char c) { return std::iscntrl(static_cast<unsigned char>(c)) != 0; });
}

} // namespace

double FailureRate::chance(double hours) const
{
    return per == Per::Print ? rate : -std::expm1(-rate * hours);
}

double FailureRate::meanHours(double hours) const
{
    if (rate == 0)
        return hours;
    return per == Per::Print ? hours / (1 - rate) : std::expm1(rate * hours) / rate;
}

double FailureRate::meanFailures(double hours) const
{
    const double fails = chance(hours);
    return fails / (1 - fails);
}

const Machine* Shop::machine(std::string_view name) const
{
    const auto at =
        std::find_if(machines.begin(), machines.end(), [&](const Machine& m) { return sameWord(m.name, name); });
    return at != machines.end() ? &*at : nullptr;
}

const SpoolStock* Shop::spools(std::string_view material) const
{
    const auto at =
        std::find_if(stock.begin(), stock.end(), [&](const SpoolStock& s) { return sameWord(s.material, material); });
    return at != stock.end() ? &*at : nullptr;
}

Status checkMachine(const Machine& m)
{
    if (!isName(m.name))
        return refused(fmt::format("\"{}\" can't be the name of a machine", m.name),
                       "Use letters, digits and blanks between them.");
    if (m.bed.machines != 1)
        return refused("a machine has one bed", "Give each machine a name of its own.");
    const double highest = m.failure.per == FailureRate::Per::Hour ? 0.5 : 0.9;
    for (const Status& s :
         {checkBed(m.bed), checkCalendar(m.calendar),
          checkNumber("margin", m.marginMm, 0, std::min({m.bed.widthMm, m.bed.depthMm, m.bed.heightMm}) / 3, " mm"),
          checkNumber("gap", m.gapMm, 0, 100, " mm"), checkNumber("nozzle", m.nozzleMm, 0, 5, " mm"),
          checkNumber("speed factor", m.speedFactor, 0.1, 10, ""),
          checkNumber("cost of an hour", m.costPerHour, 0, 1e6, ""), checkNumber("power", m.powerW, 0, 20000, " W"),
          checkNumber("plate change", m.changeMinutes, 0, 240, " minutes"),
          checkNumber("spool change", m.spoolChangeMinutes, 0, 240, " minutes"),
          checkNumber("failure rate", m.failure.rate, 0, highest, "")})
        if (!s)
            return s;
    for (const std::string& material : m.materials)
        if (!isName(material))
            return refused(fmt::format("\"{}\" can't be the name of a material", material), "Use letters and digits.");
    // A plate is changed by somebody who is there all the while.
    const auto longest = [](const std::vector<Attended>& day) {
        int minutes = 0;
        for (const Attended& a : day)
            minutes = std::max(minutes, a.toMinute - a.fromMinute);
        return minutes;
    };
    int most = 0;
    for (const auto& day : m.calendar.days)
        most = std::max(most, longest(day));
    if (m.changeMinutes > most)
        return refused("changing the plate takes longer than anybody is there",
                       "Give longer hours attended, or a shorter plate change.");
    return Done{};
}

Status checkStock(const SpoolStock& s)
{
    if (!isName(s.material))
        return refused(fmt::format("\"{}\" can't be the name of a material", s.material), "Use letters and digits.");
    if (s.spools < 0 || s.spools > 100000 || !(s.spoolGrams >= 1 && s.spoolGrams <= 1e5) ||
        !(s.openGrams >= 0 && s.openGrams <= 1e5) || !(s.pricePerKg >= 0 && s.pricePerKg <= 1e6))
        return refused("the stock of a material is out of bounds",
                       "Give 0 to 100000 spools of 1 g to 100 kg, and a price of 0 to 1000000 a kg.");
    return Done{};
}

std::string machineWords(const Machine& m)
{
    std::string out = m.bed.shape == Bed::Shape::Round
                          ? fmt::format("round bed, diameter {:g} mm, {:g} mm high", m.bed.widthMm, m.bed.heightMm)
                          : fmt::format("bed {:g} x {:g} x {:g} mm", m.bed.widthMm, m.bed.depthMm, m.bed.heightMm);
    if (m.nozzleMm > 0)
        out += fmt::format(", nozzle {:g} mm", m.nozzleMm);
    if (m.speedFactor != 1)
        out += fmt::format(", speed factor {:g}", m.speedFactor);
    out += ", attended " + attendedText(m.calendar.days);
    if (attendedText(m.calendar.days) != "always") {
        out += m.calendar.nights ? ", runs at night" : ", not at night";
        out += m.calendar.weekends ? ", runs at weekends" : ", not at weekends";
    }
    out += fmt::format(", {:g} minutes to change a plate, ", m.changeMinutes);
    out += m.failure.per == FailureRate::Per::Hour ? fmt::format("{:g} failures in 100 hours", 100 * m.failure.rate)
                                                   : fmt::format("{:g} of 100 prints fail", 100 * m.failure.rate);
    return out;
}

Result<Shop> withMachine(const Shop& shop, const Machine& machine)
{
    if (const Status s = checkMachine(machine); !s)
        return s.problem();
    Shop out = shop;
    const auto at = std::find_if(out.machines.begin(), out.machines.end(),
                                 [&](const Machine& m) { return sameWord(m.name, machine.name); });
    if (at != out.machines.end())
        *at = machine;
    else
        out.machines.push_back(machine);
    return out;
}

Result<Shop> withoutMachine(const Shop& shop, std::string_view name)
{
    Shop out = shop;
    if (std::erase_if(out.machines, [&](const Machine& m) { return sameWord(m.name, name); }) == 0)
        return refused(fmt::format("there is no machine called \"{}\"", name), "The list of machines shows the names.");
    return out;
}

Result<Shop> withStock(const Shop& shop, const SpoolStock& stock)
{
    if (const Status s = checkStock(stock); !s)
        return s.problem();
    Shop out = shop;
    std::erase_if(out.stock, [&](const SpoolStock& s) { return sameWord(s.material, stock.material); });
    if (stock.grams() > 0 || stock.pricePerKg > 0)
        out.stock.push_back(stock);
    return out;
}

} // namespace quoin::core
