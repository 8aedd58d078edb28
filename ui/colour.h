// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <utility>
#include <vector>

namespace quoin::ui {

/// Red, green, blue from 0 to 1 (sRGB).
struct Colour {
    double r = 0.8, g = 0.8, b = 0.8;
    friend bool operator==(const Colour&, const Colour&) = default;
};

/// Colours that people with any of the usual kinds of colour blindness can tell apart (Okabe and Ito 2008, "Color
/// universal design"), without black, mixed with a little white so that shading shows on them.
const std::vector<Colour>& pieceColours();

/// A colour for each of `count` pieces, so that pieces that touch differ wherever seven colours allow it, and all
/// colours are used about equally often. Deterministic.
/// @param touching  pairs of indices of pieces that meet
std::vector<Colour> coloursFor(std::size_t count, const std::vector<std::pair<std::size_t, std::size_t>>& touching);

} // namespace quoin::ui
