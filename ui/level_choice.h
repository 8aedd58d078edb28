// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <vector>

namespace quoin::ui {

/// A solid that can be drawn at several levels.
struct LevelCandidate {
    std::vector<std::size_t> triangles; ///< of each level, finest first
    double sizePx = 0;                  ///< how large it is on the screen, across; 0 when it isn't seen
};

/// A level for each solid so that together they keep to a number of triangles: again and again the solid with most
/// triangles for its area on the screen goes one coarser. What isn't seen takes its coarsest level at once. When even
/// the coarsest are too many, all are the coarsest.
std::vector<std::size_t> chooseLevels(const std::vector<LevelCandidate>& solids, std::size_t mostTriangles);

} // namespace quoin::ui
