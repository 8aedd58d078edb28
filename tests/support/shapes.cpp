// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/support/shapes.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstring>
#include <fstream>
#include <map>
#include <numbers>
#include <stdexcept>

namespace quoin::test {

using namespace mesh;

Mesh soup(std::initializer_list<Vec3> points, std::initializer_list<Triangle> triangles)
{
    Mesh m;
    m.points.assign(points.begin(), points.end());
    m.triangles.assign(triangles.begin(), triangles.end());
    return m;
}

Mesh cuboid(Vec3 a, Vec3 b)
{
    return soup({{a.x, a.y, a.z},
                 {b.x, a.y, a.z},
                 {b.x, b.y, a.z},
                 {a.x, b.y, a.z},
                 {a.x, a.y, b.z},
                 {b.x, a.y, b.z},
                 {b.x, b.y, b.z},
                 {a.x, b.y, b.z}},
                {{0, 2, 1},
                 {0, 3, 2},
                 {4, 5, 6},
                 {4, 6, 7},
                 {0, 1, 5},
                 {0, 5, 4},
                 {1, 2, 6},
                 {1, 6, 5},
                 {2, 3, 7},
                 {2, 7, 6},
                 {3, 0, 4},
                 {3, 4, 7}});
}

Mesh cube(Vec3 min, double side)
{
    return cuboid(min, min + Vec3{side, side, side});
}

Mesh tetrahedron(Vec3 a, Vec3 b, Vec3 c, Vec3 d)
{
    Mesh m = soup({a, b, c, d}, {{0, 2, 1}, {0, 1, 3}, {1, 2, 3}, {2, 0, 3}});
    return dot(cross(b - a, c - a), d - a) < 0 ? turnedOver(m) : m;
}

Mesh sphere(Vec3 centre, double radius, int levels)
{
    Mesh m = soup({{1, 0, 0}, {-1, 0, 0}, {0, 1, 0}, {0, -1, 0}, {0, 0, 1}, {0, 0, -1}},
                  {{0, 2, 4}, {2, 1, 4}, {1, 3, 4}, {3, 0, 4}, {2, 0, 5}, {1, 2, 5}, {3, 1, 5}, {0, 3, 5}});
    for (int level = 0; level < levels; ++level) {
        std::map<std::pair<Index, Index>, Index> middles;
        const auto middle = [&](Index a, Index b) {
            const auto [at, fresh] =
                middles.try_emplace({std::min(a, b), std::max(a, b)}, static_cast<Index>(m.points.size()));
            if (fresh)
                m.points.push_back(normalized(m.points[a] + m.points[b]));
            return at->second;
        };
        Buffer<Triangle> finer;
        for (const Triangle& t : m.triangles) {
            const Index a = middle(t[0], t[1]), b = middle(t[1], t[2]), c = middle(t[2], t[0]);
            for (const Triangle& part : {Triangle{t[0], a, c}, {t[1], b, a}, {t[2], c, b}, {a, b, c}})
                finer.push_back(part);
        }
        m.triangles = finer;
    }
    for (Vec3& p : m.points)
        p = centre + radius * p;
    return m;
}

Mesh ring(double ringRadius, double tubeRadius, int ringSides, int tubeSides)
{
    Mesh m;
    for (int i = 0; i < ringSides; ++i)
        for (int j = 0; j < tubeSides; ++j) {
            const double u = 2 * std::numbers::pi * i / ringSides, v = 2 * std::numbers::pi * j / tubeSides;
            const double r = ringRadius + tubeRadius * std::cos(v);
            m.points.push_back({r * std::cos(u), r * std::sin(u), tubeRadius * std::sin(v)});
        }
    const auto at = [&](int i, int j) { return static_cast<Index>(i % ringSides * tubeSides + j % tubeSides); };
    for (int i = 0; i < ringSides; ++i)
        for (int j = 0; j < tubeSides; ++j) {
            m.triangles.push_back({at(i, j), at(i + 1, j), at(i + 1, j + 1)});
            m.triangles.push_back({at(i, j), at(i + 1, j + 1), at(i, j + 1)});
        }
    return m;
}

Mesh moved(const Mesh& m, Vec3 by)
{
    return transformed(m, Transform::translation(by));
}

Mesh turnedOver(const Mesh& m)
{
    Mesh out = m;
    for (Triangle& t : out.triangles)
        std::swap(t[1], t[2]);
    return out;
}

Mesh without(const Mesh& m, std::initializer_list<Index> triangles)
{
    std::vector<Index> kept;
    for (Index i = 0; i < m.triangles.size(); ++i)
        if (std::find(triangles.begin(), triangles.end(), i) == triangles.end())
            kept.push_back(i);
    return subset(m, kept);
}

Mesh together(std::initializer_list<Mesh> meshes)
{
    Mesh all;
    for (const Mesh& m : meshes)
        all = joined(all, m);
    return all;
}

Mesh weldedTogether(std::initializer_list<Mesh> meshes)
{
    return welded(together(meshes));
}

Mesh exploded(const Mesh& m)
{
    Mesh out;
    for (std::size_t i = 0; i < m.triangles.size(); ++i) {
        const auto n = static_cast<Index>(out.points.size());
        for (int k = 0; k < 3; ++k)
            out.points.push_back(m.corner(i, k));
        out.triangles.push_back({n, n + 1, n + 2});
    }
    out.labels = m.labels;
    return out;
}

Mesh binaryStl(const std::filesystem::path& file)
{
    std::ifstream in(file, std::ios::binary);
    std::array<char, 84> head;
    in.read(head.data(), head.size());
    std::uint32_t count = 0;
    std::memcpy(&count, head.data() + 80, sizeof count);
    Mesh m;
    for (Index i = 0; i < count; ++i) {
        std::array<char, 50> facet;
        if (!in.read(facet.data(), facet.size()))
            throw std::runtime_error(file.string() + " is shorter than it says");
        std::array<float, 12> f;
        std::memcpy(f.data(), facet.data(), sizeof f);
        for (std::size_t k = 3; k < 12; k += 3)
            m.points.push_back({f[k], f[k + 1], f[k + 2]});
        m.triangles.push_back({3 * i, 3 * i + 1, 3 * i + 2});
    }
    return welded(m);
}

bool same(const Mesh& a, const Mesh& b)
{
    return a.points.size() == b.points.size() && std::equal(a.points.begin(), a.points.end(), b.points.begin()) &&
           a.triangles == b.triangles && a.labels == b.labels;
}

} // namespace quoin::test
