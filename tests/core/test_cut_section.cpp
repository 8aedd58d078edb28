// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/cut_section.h"
#include "core/flat_areas.h"
#include "mesh/primitives.h"

#include <catch2/catch.hpp>

namespace quoin::core {

TEST_CASE("cut section: the whole face, and what the sides of other cuts leave of it", "[cut_section]")
{
    const mesh::Mesh box = mesh::box({0, 0, 0}, {10, 20, 30});
    CHECK(sectionOf(box, mesh::planeAt({0, 0, 1}, 12))->areaMm2 == Approx(200));
    CHECK(sectionOf(box, mesh::planeAt({0, 0, 1}, 40))->areaMm2 == 0);
    const auto quarter = sectionOf(box, mesh::planeAt({0, 0, 1}, 12),
                                   {{mesh::planeAt({1, 0, 0}, 3), false}, {mesh::planeAt({0, 1, 0}, 15), true}});
    CHECK(quarter->areaMm2 == Approx(3 * 5).epsilon(1e-6));
    // The far side of a plane that misses the face; a parallel plane above and below.
    CHECK(sectionOf(box, mesh::planeAt({0, 0, 1}, 12), {{mesh::planeAt({1, 0, 0}, 30), true}})->areaMm2 == 0);
    CHECK(sectionOf(box, mesh::planeAt({0, 0, 1}, 12), {{mesh::planeAt({0, 0, 1}, 5), true}})->areaMm2 ==
          Approx(200).epsilon(1e-6));
    CHECK(sectionOf(box, mesh::planeAt({0, 0, 1}, 12), {{mesh::planeAt({0, 0, 1}, 5), false}})->areaMm2 == 0);
    // A slanting side: x + z <= 15 leaves x <= 3 at z = 12.
    CHECK(sectionOf(box, mesh::planeAt({0, 0, 1}, 12), {{mesh::planeThrough({3, 0, 12}, {1, 0, 1}), false}})->areaMm2 ==
          Approx(60).epsilon(1e-6));
}

TEST_CASE("cut section: limits by cuts that are switched off are left out", "[cut_section]")
{
    PartDesign part;
    part.source = std::make_shared<const mesh::Mesh>(mesh::box({0, 0, 0}, {1, 1, 1}));
    part = withCut(part, mesh::planeAt({1, 0, 0}, 0.5));
    part = withCut(part, mesh::planeAt({0, 1, 0}, 0.5));
    part.cuts[1].enabled = false;
    const auto limits = limitsOf(part, {{1, true}, {2, true}, {9, false}});
    REQUIRE(limits.size() == 1);
    CHECK(limits[0].first == part.cuts[0].plane);
    CHECK(limits[0].second);
}

TEST_CASE("flat faces: those of a box, largest first, and none on a ball", "[flat_areas]")
{
    const auto faces = flatAreas(mesh::box({0, 0, 0}, {10, 20, 30}));
    REQUIRE(faces.size() == 6);
    CHECK(faces[0].areaMm2 == Approx(600));
    CHECK(std::abs(faces[0].plane.normal.x) == Approx(1));
    CHECK(faces[5].areaMm2 == Approx(200));
    CHECK((faces[5].plane.offset == Approx(0).margin(1e-9) || faces[5].plane.offset == Approx(30)));
    CHECK(flatAreas(mesh::icosphere(10, 5)).empty());
}

} // namespace quoin::core
