// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/colour.h"

#include <QImage>

#include <cstdint>
#include <vector>

namespace quoin::ui {

/// A picture half as large each way, four pixels averaged to one.
/// @param large  rows of 2 * width pixels of four 8-bit channels, 2 * height of them
QImage halved(const std::vector<std::uint32_t>& large, int widthPx, int heightPx);

/// Paints a rim around the places whose alpha is below 255 (0: wholly inside), and makes the whole picture opaque. The
/// inner third of the rim is white, so that it shows on things of its own colour.
/// @param widthPx  of the rim, 1 or more
void paintRim(QImage& image, const Colour& colour, int widthPx);

} // namespace quoin::ui
