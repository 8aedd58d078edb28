// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/outline_loops.h"

#include <algorithm>
#include <unordered_map>

namespace quoin::mesh {

OutlineLoops loopsOf(const std::vector<OutlineEdge>& edges)
{
    std::unordered_map<Index, std::vector<Index>> leaving;
    leaving.reserve(edges.size());
    for (const OutlineEdge& e : edges) {
        std::vector<Index>& back = leaving[e[1]];
        if (const auto it = std::find(back.begin(), back.end(), e[0]); it != back.end())
            back.erase(it);
        else
            leaving[e[0]].push_back(e[1]);
    }
    OutlineLoops out;
    for (const OutlineEdge& e : edges)
        while (!leaving[e[0]].empty()) {
            std::vector<Index> loop;
            Index at = e[0];
            for (std::vector<Index>* next = &leaving[at]; !next->empty(); next = &leaving[at]) {
                loop.push_back(at);
                at = next->back();
                next->pop_back();
            }
            if (at != e[0] && out.closed) {
                out.closed = false;
                out.openAt = e[0];
            }
            if (loop.size() >= 3)
                out.loops.push_back(std::move(loop));
        }
    return out;
}

} // namespace quoin::mesh
