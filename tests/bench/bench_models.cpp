// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/model_file.h"
#include "mesh/primitives.h"
#include "mesh/repair.h"
#include "tests/bench/bench.h"

#include <random>
#include <unordered_map>

namespace quoin::bench {

using mesh::Index;
using mesh::Mesh;
using mesh::Vec3;

namespace {

/// Each triangle in four, at the middles of its edges, the new points moved by up to 0.2 % of the edge.
Mesh subdivided(const Mesh& m, unsigned seed)
{
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> noise(-0.002, 0.002);
    Mesh out;
    out.points = m.points;
    std::unordered_map<std::uint64_t, Index> middle;
    middle.reserve(2 * m.triangles.size());
    const auto between = [&](Index a, Index b) {
        const std::uint64_t key = (static_cast<std::uint64_t>(std::min(a, b)) << 32) | std::max(a, b);
        const auto [it, isNew] = middle.emplace(key, static_cast<Index>(out.points.size()));
        if (isNew) {
            const Vec3 p = m.points[a], q = m.points[b];
            const double l = length(q - p);
            out.points.push_back(0.5 * (p + q) + l * Vec3{noise(random), noise(random), noise(random)});
        }
        return it->second;
    };
    for (const mesh::Triangle& t : m.triangles) {
        const Index a = between(t[0], t[1]), b = between(t[1], t[2]), c = between(t[2], t[0]);
        for (const mesh::Triangle& s : {mesh::Triangle{t[0], a, c}, mesh::Triangle{a, t[1], b},
                                        mesh::Triangle{c, b, t[2]}, mesh::Triangle{a, b, c}})
            out.triangles.push_back(s);
    }
    return out;
}

} // namespace

std::vector<NamedModel> closedModels(bool large)
{
    const auto model = mesh::readModel(std::string(QUOIN_NPM_MODULES) + "/stl-models/objects/bunny.bin.stl");
    auto bunny = mesh::repaired(model.value().mesh);
    Mesh m = std::move(bunny.value().mesh);
    const Vec3 e = mesh::bounds(m).extents();
    m = mesh::transformed(m, mesh::Transform::scaling(150 / std::max({e.x, e.y, e.z})) *
                                 mesh::Transform::translation(-mesh::bounds(m).centre()));
    std::vector<NamedModel> models{{"bunny", m}};
    const Mesh finer = subdivided(subdivided(m, 1), 2);
    models.push_back({"bunny, 1.1 million", finer});
    models.push_back({"sphere, through vertices", mesh::icosphere(75, 8)});
    if (large)
        models.push_back({"bunny, 4.4 million", subdivided(finer, 3)});
    return models;
}

} // namespace quoin::bench
