// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/colour.h"

#include <algorithm>

namespace quoin::ui {

namespace {

constexpr double whiteShare = 0.12;

Colour softened(int r, int g, int b)
{
    const auto mix = [](int byte) { return whiteShare + (1 - whiteShare) * byte / 255.0; };
    return {mix(r), mix(g), mix(b)};
}

} // namespace

const std::vector<Colour>& pieceColours()
{
    static const std::vector<Colour> colours{
        softened(86, 180, 233),  // sky blue
        softened(230, 159, 0),   // orange
        softened(0, 158, 115),   // bluish green
        softened(204, 121, 167), // reddish purple
        softened(240, 228, 66),  // yellow
        softened(0, 114, 178),   // blue
        softened(213, 94, 0),    // vermilion
    };
    return colours;
}

std::vector<Colour> coloursFor(std::size_t count, const std::vector<std::pair<std::size_t, std::size_t>>& touching)
{
    const auto& palette = pieceColours();
    std::vector<std::vector<std::size_t>> neighbours(count);
    for (const auto& [a, b] : touching)
        if (a < count && b < count && a != b) {
            neighbours[a].push_back(b);
            neighbours[b].push_back(a);
        }
    std::vector<std::size_t> chosen(count, palette.size());
    std::vector<std::size_t> uses(palette.size(), 0);
    for (std::size_t i = 0; i < count; ++i) {
        std::vector<std::size_t> clashes(palette.size(), 0);
        for (const std::size_t n : neighbours[i])
            if (chosen[n] < palette.size())
                ++clashes[chosen[n]];
        std::size_t best = 0;
        for (std::size_t c = 1; c < palette.size(); ++c)
            if (std::pair(clashes[c], uses[c]) < std::pair(clashes[best], uses[best]))
                best = c;
        chosen[i] = best;
        ++uses[best];
    }
    std::vector<Colour> out(count);
    std::ranges::transform(chosen, out.begin(), [&](std::size_t c) { return palette[c]; });
    return out;
}

} // namespace quoin::ui
