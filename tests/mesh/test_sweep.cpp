// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/convex_gap.h"
#include "mesh/primitives.h"
#include "mesh/self_intersection.h"
#include "mesh/sweep.h"
#include "tests/support/shapes.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <random>

using namespace quoin;
using namespace quoin::mesh;

namespace {

class Random {
public:
    explicit Random(unsigned seed) : m_engine(seed) {}
    double between(double low, double high)
    {
        return low + (high - low) * static_cast<double>(m_engine() >> 11) * 0x1p-53;
    }
    Vec3 point(double size) { return {between(-size, size), between(-size, size), between(-size, size)}; }

private:
    std::mt19937_64 m_engine;
};

/// A box, a ring or a ball of some centimetres, turned anyhow.
Mesh anyBody(Random& random, Vec3 at)
{
    const double kind = random.between(0, 3);
    const Vec3 size{random.between(2, 30), random.between(2, 30), random.between(2, 30)};
    const Mesh body = kind < 1 ? box(-0.5 * size, 0.5 * size) : kind < 2 ? torus(12, 4, 24, 12) : icosphere(9, 2);
    return transformed(body, Transform::translation(at) * Transform::rotation(random.point(1), random.between(0, 6)));
}

bool meetAt(const Mesh& moving, const Mesh& standing, const Sweep& sweep, double s)
{
    return meshesIntersect(transformed(moving, placeAlong(sweep, s)), standing);
}

/// What the sweep says, held against exact tests of the bodies at many places of the way.
/// @return whether they meet
bool requireSameAsSteps(const Mesh& moving, const Mesh& standing, const Sweep& sweep, double to, int steps)
{
    const SweptBody a(moving, sweep), b(standing, sweep);
    const auto found = firstContact(a, b, 0, to);
    // A shallow touch, by less than what is pulled in, doesn't count, and delays the contact where surfaces meet at a
    // small angle.
    constexpr double delayMm = 0.1;
    const double until = found ? found->wayMm - delayMm : to;
    const bool grazes = !found && leastGapBeside(a, b, 0, to, 1) < 4 * sweepPullMm;
    for (int i = 0; i <= steps && to * i / steps < until && !grazes; ++i) {
        CAPTURE(to * i / steps);
        CHECK_FALSE(meetAt(moving, standing, sweep, to * i / steps));
    }
    if (found) {
        CAPTURE(found->wayMm);
        CHECK((meetAt(moving, standing, sweep, found->wayMm + 0.004) ||
               meetAt(moving, standing, sweep, found->wayMm + 0.03)));
        if (until > 0)
            CHECK_FALSE(meetAt(moving, standing, sweep, until));
    }
    return found.has_value();
}

} // namespace

TEST_CASE("sweep: straight ways of random bodies, against exact tests step by step")
{
    Random random(7);
    int met = 0, free = 0;
    for (int i = 0; i < 120; ++i) {
        const Vec3 way = normalized(random.point(1));
        const Mesh moving = anyBody(random, random.point(15)), standing = anyBody(random, 50 * way + random.point(18));
        if (meshesIntersect(moving, standing))
            continue;
        CAPTURE(i);
        ++(requireSameAsSteps(moving, standing, {{0, 0, 0}, way, 0}, 120, 60) ? met : free);
    }
    CHECK(met > 30);
    CHECK(free > 30);
}

TEST_CASE("sweep: turns of random bodies along a helix, against exact tests step by step")
{
    Random random(11);
    int met = 0, free = 0;
    for (int i = 0; i < 80; ++i) {
        const Vec3 way = normalized(random.point(1));
        const double lead = (i % 2 == 0 ? 1 : -1) * random.between(4, 60);
        const Sweep sweep{random.point(5), way, lead};
        const Mesh moving = anyBody(random, random.point(25)), standing = anyBody(random, 25 * way + random.point(40));
        if (meshesIntersect(moving, standing))
            continue;
        CAPTURE(i, lead);
        ++(requireSameAsSteps(moving, standing, sweep, 60, 120) ? met : free);
    }
    CHECK(met > 15);
    CHECK(free > 10);
}

TEST_CASE("sweep: the gap beside the way is that of the shapes")
{
    // A pin in a bore, 0.4 mm all round; and a pin past a wall, 2 mm off.
    const Mesh pin = transformed(cylinder(5, 30, 48), Transform::translation({0, 0, -20}));
    const Mesh wall = box({7, -20, -40}, {20, 20, 40});
    const Sweep up{{0, 0, 0}, {0, 0, 1}, 0};
    const double gap = leastGapBeside({pin, up}, {wall, up}, 0, 100, 5);
    CHECK(gap <= 2 + 3 * sweepPullMm);
    CHECK(gap >= 0.7 * 2);
    const Sweep turning{{0, 0, 0}, {0, 0, 1}, 6};
    const double turned = leastGapBeside({pin, turning}, {wall, turning}, 0, 100, 5);
    CHECK(turned <= 2 + 0.1);
    CHECK(turned >= 0.65 * 2);
    CHECK(leastGapBeside({pin, up}, {transformed(wall, Transform::translation({9, 0, 0})), up}, 0, 100, 5) == 5);
    CHECK(leastGapBeside({pin, up}, {transformed(wall, Transform::translation({-5, 0, 0})), up}, 0, 100, 5) == 0);
}

TEST_CASE("sweep: faces that touch are no contact, whether they part or slide")
{
    const Mesh low = box({-20, -20, -30}, {20, 20, 0}), high = box({-20, -20, 0}, {20, 20, 25});
    for (const Vec3 way : {Vec3{0, 0, 1}, Vec3{1, 0, 0}, normalized(Vec3{1, 2, 0}), normalized(Vec3{1, 1, 1})}) {
        const Sweep sweep{{0, 0, 0}, way, 0};
        CHECK_FALSE(firstContact({high, sweep}, {low, sweep}, 2 * sweepPullMm, 1e4));
    }
    const Sweep down{{0, 0, 0}, normalized(Vec3{1, 0, -0.01}), 0};
    CHECK(firstContact({high, down}, {low, down}, 2 * sweepPullMm, 1e4));
    const Sweep turning{{3, 3, 0}, {0, 0, 1}, 6};
    CHECK_FALSE(firstContact({high, turning}, {low, turning}, 2 * sweepPullMm, 100));
}

TEST_CASE("sweep: a place along a helix turns right-handed with a positive lead")
{
    const Sweep sweep{{1, 0, 0}, {0, 0, 1}, 8};
    const Vec3 p = placeAlong(sweep, 2).point({3, 0, 5}); // a quarter of a turn
    CHECK(length(p - Vec3{1, 2, 7}) < 1e-12);
}

TEST_CASE("convex gap: triangles and their swept boxes, against dense samples")
{
    Random random(3);
    for (int i = 0; i < 300; ++i) {
        std::array<Vec3, 3> a{random.point(3), random.point(3), random.point(3)},
            b{random.point(3), random.point(3), random.point(3)};
        if (i % 5 == 0)
            a[2] = 0.5 * (a[0] + a[1]); // no area
        Box3 shifts;
        shifts.add(random.point(2));
        if (i % 3 == 0)
            shifts.add(random.point(2));
        const GapBounds gap = sweptGap(a, b, shifts, 1e300);
        CHECK(gap.lowMm <= gap.highMm + 1e-9);
        double least = 1e300;
        for (int k = 0; k < 4000; ++k) {
            const auto on = [&](const std::array<Vec3, 3>& t) {
                double u = random.between(0, 1), v = random.between(0, 1);
                if (u + v > 1) {
                    u = 1 - u;
                    v = 1 - v;
                }
                return t[0] + u * (t[1] - t[0]) + v * (t[2] - t[0]);
            };
            const Vec3 s{random.between(shifts.min.x, shifts.max.x), random.between(shifts.min.y, shifts.max.y),
                         random.between(shifts.min.z, shifts.max.z)};
            least = std::min(least, length(on(b) - on(a) - s));
        }
        CAPTURE(i, gap.lowMm, gap.highMm, least);
        CHECK(gap.lowMm <= least + 1e-9);
        CHECK(gap.highMm >= least - 1.0); // samples come within that
        CHECK(gap.highMm - gap.lowMm <= 1e-4 * (1 + gap.highMm));
    }
}
