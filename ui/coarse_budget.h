// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>

namespace quoin::ui {

/// How many triangles pictures may have while the view moves, and whether they are smoothed: what a software driver
/// does in about 25 ms to begin with, more while pictures take less than the lower time, fewer when they take more
/// than the upper.
class CoarseBudget {
public:
    static constexpr std::size_t first = 80'000, least = 8'000;
    static constexpr double quickMs = 12, slowMs = 36;

    std::size_t triangles() const { return m_triangles; }
    bool smooth() const { return m_smooth; }

    /// Learns from a picture. Only tell it of those for which everything was on the card: one without its fine levels
    /// is quick, and says nothing about what they would cost.
    /// @param full    whether everything was drawn at full detail
    /// @param smooth  whether it was smoothed
    void learn(double ms, bool full, bool smooth, std::size_t trianglesInAll);

private:
    std::size_t m_triangles = first;
    bool m_smooth = false;
};

} // namespace quoin::ui
