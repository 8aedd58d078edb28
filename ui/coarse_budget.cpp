// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/coarse_budget.h"

#include <algorithm>

namespace quoin::ui {

namespace {

/// A picture is smoothed when that is expected to take no longer than this; it has this many times the pixels then.
constexpr double smoothMs = 20;
constexpr int pixelsForOne = 4;
/// Of the budget, after a slow picture.
constexpr double leastShare = 0.25, mostShare = 0.75;

} // namespace

void CoarseBudget::learn(double ms, bool full, bool smooth, std::size_t trianglesInAll)
{
    if (ms > slowMs) {
        // Also when it was full: a budget that has outgrown the scene must find its way back.
        if (!smooth) {
            const double share = std::clamp(slowMs / ms, leastShare, mostShare);
            const auto now = static_cast<double>(std::min(m_triangles, trianglesInAll));
            m_triangles = std::max(least, static_cast<std::size_t>(share * now));
        }
        m_smooth = false;
    } else if (ms < quickMs && m_triangles < trianglesInAll) {
        m_triangles = m_triangles / 2 * 3;
    } else if (!smooth && full && pixelsForOne * ms < smoothMs) {
        m_smooth = true;
    }
}

} // namespace quoin::ui
