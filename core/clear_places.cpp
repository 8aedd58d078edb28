// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/clear_places.h"

#include <algorithm>
#include <cmath>

namespace quoin::core {

namespace {

/// A cut keeps so far (mm) off a marked place where it can, and never more than this share of the free range.
constexpr double standOffMm = 2;
constexpr double standOffShare = 0.25;

/// No cell is thinner than this share of an even one if it can be helped.
constexpr double leastShare = 0.05;

/// Rounding: an even division may come out longer than the longest cell by the last digit.
constexpr double digitRelative = 1e-9;

/// The least free offset that is not less than `offset`.
std::optional<double> firstFrom(double offset, const std::vector<OffsetRange>& free)
{
    for (const OffsetRange& f : free)
        if (f.to >= offset)
            return std::max(f.from, offset);
    return std::nullopt;
}

/// The greatest free offset that is not greater than `offset`.
std::optional<double> lastTo(double offset, const std::vector<OffsetRange>& free)
{
    for (auto f = free.rbegin(); f != free.rend(); ++f)
        if (f->from <= offset)
            return std::min(f->to, offset);
    return std::nullopt;
}

/// The least offset for each cut, counted from the last, from which the rest can still be divided: each as far from
/// the next as a cell may be long. None when a blocked range is in the way.
std::optional<std::vector<double>> leastOffsets(double from, double to, double longest,
                                                const std::vector<OffsetRange>& free)
{
    std::vector<double> lows;
    for (double next = to; next - longest > from;) {
        const auto low = firstFrom(next - longest, free);
        if (!low || !(*low < next))
            return std::nullopt;
        lows.push_back(next = *low);
    }
    return lows;
}

} // namespace

bool isFree(double offset, const std::vector<OffsetRange>& free)
{
    return std::any_of(free.begin(), free.end(),
                       [&](const OffsetRange& f) { return f.from <= offset && offset <= f.to; });
}

std::optional<double> nearestFree(double wanted, OffsetRange within, const std::vector<OffsetRange>& free)
{
    std::optional<double> best;
    for (const OffsetRange& f : free) {
        const double off = std::min(standOffMm, standOffShare * (f.to - f.from));
        for (const double inset : {off, 0.0}) {
            const double low = std::max(f.from + inset, within.from), high = std::min(f.to - inset, within.to);
            if (low > high)
                continue;
            const double at = std::clamp(wanted, low, high);
            if (!best || std::abs(at - wanted) < std::abs(*best - wanted))
                best = at;
            break;
        }
    }
    return best;
}

std::optional<std::vector<ClearPlace>> clearPlaces(double from, double to, int cells, double longest,
                                                   const std::vector<OffsetRange>& free)
{
    longest *= 1 + digitRelative;
    const auto lows = leastOffsets(from, to, longest, free);
    if (!lows)
        return std::nullopt;
    const int count = std::max(cells - 1, static_cast<int>(lows->size()));
    const double even = (to - from) / (count + 1), thin = leastShare * even;
    std::vector<ClearPlace> out;
    double before = from, reach = from; // the cut before, and how far it could have gone
    for (int k = 1; k <= count; ++k) {
        const int left = count - k; // cuts after this one
        const double least = left < static_cast<int>(lows->size()) ? (*lows)[static_cast<std::size_t>(left)] : from;
        const auto farthest = lastTo(std::min(reach + longest, to), free);
        reach = farthest && *farthest > reach ? *farthest : reach;
        const double low = std::max(least, before), high = std::min(before + longest, to);
        // Off the cut before and off the ends, if there is such a place.
        auto at = nearestFree(from + k * even, {std::max(low, before + thin), std::min(high, to - thin)}, free);
        if (!at)
            at = nearestFree(from + k * even, {low, high}, free);
        if (!at)
            return std::nullopt;
        if (*at > before && *at < to)
            out.push_back({*at, std::max(least, from), std::min(reach, to)});
        before = *at;
    }
    return out;
}

OffsetRange longestBlocked(double from, double to, const std::vector<OffsetRange>& free)
{
    OffsetRange longest{from, from};
    double reached = from;
    const auto add = [&](double end) {
        if (end - reached > longest.to - longest.from)
            longest = {reached, end};
    };
    for (const OffsetRange& f : free) {
        add(f.from);
        reached = std::max(reached, f.to);
    }
    add(to);
    return longest;
}

} // namespace quoin::core
