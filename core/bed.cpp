// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/bed.h"

#include "core/length.h"
#include "core/same_word.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <numbers>
#include <optional>

namespace quoin::core {

namespace {

constexpr double leastSideMm = 1;
constexpr double largestSideMm = 100'000;
constexpr int mostMachines = 1000;

constexpr std::string_view howToWrite = "Write width x depth x height in mm, such as 300x300x400, or d250x300 for a "
                                        "round plate of 250 mm, or the name of a "
                                        "known bed.";

Problem notABed(std::string_view text, const std::string& why)
{
    return Problem{Reason::BadArgument, fmt::format("\"{}\" is not a bed: {}", text, why), "", "",
                   std::string(howToWrite)};
}

std::string_view trimmed(std::string_view text)
{
    const auto isBlank = [](char c) { return c == ' ' || c == '\t'; };
    while (!text.empty() && isBlank(text.front()))
        text.remove_prefix(1);
    while (!text.empty() && isBlank(text.back()))
        text.remove_suffix(1);
    return text;
}

/// Takes one of several beginnings off the text; false when it has none of them.
bool takePrefix(std::string_view& text, std::initializer_list<std::string_view> prefixes)
{
    for (const std::string_view prefix : prefixes)
        if (text.starts_with(prefix)) {
            text.remove_prefix(prefix.size());
            return true;
        }
    return false;
}

/// The parts between x, X or a multiplication sign.
std::vector<std::string> partsBetweenCrosses(std::string_view text)
{
    std::vector<std::string> parts(1);
    while (!text.empty()) {
        if (takePrefix(text, {"x", "X", "\xC3\x97"})) {
            parts.emplace_back();
        } else {
            parts.back() += text.front();
            text.remove_prefix(1);
        }
    }
    for (std::string& part : parts)
        part = std::string(trimmed(part));
    return parts;
}

bool hasUnit(const std::string& length)
{
    const auto isNumeric = [](char c) { return (c >= '0' && c <= '9') || c == '.' || c == '+' || c == '-'; };
    return !length.empty() && !isNumeric(length.back());
}

/// "30", "30", "40cm": a unit after the last counts for all, when no other has one.
void spreadUnit(std::vector<std::string>& lengths)
{
    if (!hasUnit(lengths.back()) || std::any_of(lengths.begin(), lengths.end() - 1, hasUnit))
        return;
    const std::string& last = lengths.back();
    const std::string unit = last.substr(last.find_last_of("0123456789.") + 1);
    for (std::size_t i = 0; i + 1 < lengths.size(); ++i)
        lengths[i] += unit;
}

/// Takes "*2" off the end. none: there is a star, but no number of machines after it.
std::optional<int> takeMachines(std::string_view& text)
{
    const std::size_t star = text.rfind('*');
    if (star == text.npos)
        return 1;
    const std::string_view digits = trimmed(text.substr(star + 1));
    int machines = 0;
    const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), machines);
    if (error != std::errc{} || end != digits.data() + digits.size())
        return std::nullopt;
    text = trimmed(text.substr(0, star));
    return machines;
}

const Bed* findBed(std::string_view name, const std::vector<Bed>& known)
{
    const auto exact = std::find_if(known.begin(), known.end(), [&](const Bed& b) { return b.name == name; });
    if (exact != known.end())
        return &*exact;
    const auto close = std::find_if(known.begin(), known.end(), [&](const Bed& b) { return sameWord(b.name, name); });
    return close != known.end() ? &*close : nullptr;
}

Result<Bed> bedOfSize(std::string_view text)
{
    std::string_view rest = text;
    Bed bed;
    if (takePrefix(rest, {"d", "D", "\xC3\x98", "\xC3\xB8"}))
        bed.shape = Bed::Shape::Round;
    std::vector<std::string> lengths = partsBetweenCrosses(rest);
    const std::size_t wanted = bed.shape == Bed::Shape::Round ? 2 : 3;
    if (lengths.size() != wanted)
        return notABed(text, lengths.size() < 2 ? "there is no bed of this name, and it is no size"
                                                : fmt::format("it has {} lengths, not {}", lengths.size(), wanted));
    spreadUnit(lengths);
    std::vector<double> sizes;
    for (const std::string& length : lengths) {
        const Result<double> mm = lengthMmFrom(length);
        if (!mm)
            return notABed(text, mm.problem().what);
        sizes.push_back(*mm);
    }
    bed.widthMm = sizes.front();
    bed.depthMm = sizes[wanted - 2];
    bed.heightMm = sizes.back();
    bed.name = sizeWords(bed);
    return bed;
}

Bed shipped(double widthMm, double depthMm, double heightMm)
{
    Bed bed{"", Bed::Shape::Rectangular, widthMm, depthMm, heightMm, 1};
    bed.name = sizeWords(bed);
    return bed;
}

Bed shippedRound(double diameterMm, double heightMm)
{
    Bed bed{"", Bed::Shape::Round, diameterMm, diameterMm, heightMm, 1};
    bed.name = sizeWords(bed);
    return bed;
}

} // namespace

double Bed::volumeMm3() const
{
    const double plateMm2 = shape == Shape::Round ? std::numbers::pi * widthMm * widthMm / 4 : widthMm * depthMm;
    return plateMm2 * heightMm;
}

std::string sizeWords(const Bed& bed)
{
    if (bed.shape == Bed::Shape::Round)
        return fmt::format("d{:.6g}x{:.6g}", bed.widthMm, bed.heightMm);
    return fmt::format("{:.6g}x{:.6g}x{:.6g}", bed.widthMm, bed.depthMm, bed.heightMm);
}

Status checkBed(const Bed& bed)
{
    for (const double side : {bed.widthMm, bed.depthMm, bed.heightMm})
        if (!(side >= leastSideMm && side <= largestSideMm))
            return notABed(bed.name, fmt::format("a length of {:g} mm is not between {:g} mm and {:g} m", side,
                                                 leastSideMm, largestSideMm / 1000));
    if (bed.shape == Bed::Shape::Round && bed.widthMm != bed.depthMm)
        return notABed(bed.name, "a round plate is as deep as it is wide");
    if (bed.machines < 1 || bed.machines > mostMachines)
        return notABed(bed.name, fmt::format("{} machines; 1 to {} can be", bed.machines, mostMachines));
    return Done{};
}

Result<Bed> bedFromText(std::string_view text, const std::vector<Bed>& known)
{
    std::string_view rest = trimmed(text);
    if (rest.empty())
        return notABed(text, "it is empty");
    if (const Bed* bed = findBed(rest, known))
        return *bed;
    const std::optional<int> machines = takeMachines(rest);
    if (!machines)
        return notABed(text, "after the * there is no number of machines");
    const Bed* named = findBed(rest, known);
    Result<Bed> bed = named ? Result<Bed>(*named) : bedOfSize(rest);
    if (!bed)
        return bed;
    if (text.find('*') != text.npos)
        bed->machines = *machines;
    if (const Status good = checkBed(*bed); !good)
        return good.problem();
    return bed;
}

std::vector<Bed> shippedBeds()
{
    return {shipped(120, 120, 120), shipped(150, 150, 150), shipped(180, 180, 180), shipped(200, 200, 200),
            shipped(220, 220, 250), shipped(250, 210, 210), shipped(250, 250, 250), shipped(300, 300, 300),
            shipped(300, 300, 400), shipped(350, 350, 400), shipped(400, 400, 450), shipped(500, 500, 500),
            shippedRound(180, 300), shippedRound(250, 300)};
}

} // namespace quoin::core
