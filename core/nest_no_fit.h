// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/nest_shape.h"

#include <map>
#include <utility>
#include <vector>

namespace quoin::core {

/// Where a second shape can't stand beside a first one at (0, 0): the translations at which their insides overlap. The
/// Minkowski sum of the first and of the second turned over (Art 1966; Adamowicz and Albano 1976), as convex parts, one
/// for each pair of convex parts of the two: open sets, so that two shapes may touch, and together exactly the
/// overlap, in whole numbers.
struct NoFit {
    std::vector<NestLoop> parts;
    std::vector<NestBox> boxes;    ///< of the parts
    std::vector<NestLoop> outline; ///< of all parts, for finding places to try; rounded to the grid
    NestBox box;

    /// Whether the insides overlap with the second shape at a place.
    bool overlapsAt(NestPoint at) const;
};
NoFit noFit(const NestShape& standing, const NestShape& coming);

/// Shapes with what has been worked out between each two of them. Not for several threads at once.
class NoFitTable {
public:
    /// A shape, by quarter turns from another that is in the table before it (itself: 0).
    struct Entry {
        NestShape shape;
        std::size_t base = 0;
        int quarters = 0;
    };
    explicit NoFitTable(std::vector<Entry> entries) : m_entries(std::move(entries)) {}
    const NestShape& shape(std::size_t i) const { return m_entries[i].shape; }
    std::size_t size() const { return m_entries.size(); }
    /// Worked out once for both turned together, and turned.
    /// @param work  is raised by what that costs
    const NoFit& between(std::size_t standing, std::size_t coming, long& work);

private:
    using Key = std::pair<std::size_t, std::size_t>;
    std::vector<Entry> m_entries;
    std::map<Key, NoFit> m_known;
};

} // namespace quoin::core
