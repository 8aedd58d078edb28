// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
//
// The plane cut against an independent geometry kernel (npm manifold-3d) on the Stanford bunny and a gearwheel (npm
// stl-models): volumes of both halves and area of the section. The kernel works in 32-bit floats, hence the limits.
#include "mesh/mass.h"
#include "mesh/model_file.h"
#include "mesh/plane_cut.h"
#include "mesh/repair.h"
#include "mesh/topology.h"
#include "mesh/write_model.h"
#include "tests/app/command.h"
#include "tests/support/scratch.h"

#include <catch2/catch.hpp>
#include <fmt/format.h>

#include <cstdio>

using namespace quoin;
using namespace quoin::test;
using mesh::Mesh;

namespace {

struct Cut {
    double below = 0, above = 0, section = 0;
};

Cut byManifold(const std::filesystem::path& stl, const mesh::Plane& p)
{
    const Ran r =
        ran("node", {std::string(QUOIN_TEST_SOURCE_DIR) + "/app/compare_cut.mjs",
                     reference("manifold-3d/manifold.js").string(), stl.string(), fmt::format("{}", p.normal.x),
                     fmt::format("{}", p.normal.y), fmt::format("{}", p.normal.z), fmt::format("{}", p.offset)});
    Cut c;
    INFO(r.error);
    REQUIRE(std::sscanf(r.output.c_str(), "%lf %lf %lf", &c.below, &c.above, &c.section) == 3);
    return c;
}

Cut byUs(const Mesh& m, const mesh::Plane& p)
{
    const auto halves = mesh::cutByPlane(m, p);
    REQUIRE(halves.ok());
    CHECK(mesh::topologyOf(halves->below).solid());
    CHECK(mesh::topologyOf(halves->above).solid());
    const auto section = mesh::sectionByPlane(m, p);
    REQUIRE(section.ok());
    double cap = 0;
    for (std::size_t i = halves->belowCap; i < halves->below.triangles.size(); ++i)
        cap += mesh::triangleArea(halves->below, i);
    CHECK(mesh::area(*section) == Approx(cap).epsilon(1e-9));
    return {mesh::volume(halves->below), mesh::volume(halves->above), cap};
}

void requireAgreement(Mesh m, const std::vector<mesh::Plane>& planes)
{
    // Both sides get the same numbers: 100 mm in size, rounded to floats by the file.
    const mesh::Vec3 e = mesh::bounds(m).extents();
    const double scale = 100 / std::max({e.x, e.y, e.z});
    m = mesh::transformed(m, mesh::Transform::scaling(scale) * mesh::Transform::translation(-mesh::bounds(m).centre()));
    const ScratchFolder scratch;
    REQUIRE(mesh::writeStl(scratch / "m.stl", m).ok());
    m = mesh::readModel(scratch / "m.stl").value().mesh;
    const double whole = mesh::volume(m);
    for (const mesh::Plane& p : planes) {
        const Cut theirs = byManifold(scratch / "m.stl", p), ours = byUs(m, p);
        INFO("offset " << p.offset);
        CHECK(ours.below == Approx(theirs.below).epsilon(0).margin(2e-6 * whole));
        CHECK(ours.above == Approx(theirs.above).epsilon(0).margin(2e-6 * whole));
        CHECK(ours.section == Approx(theirs.section).epsilon(1e-4));
    }
}

} // namespace

TEST_CASE("cut against manifold-3d: the Stanford bunny")
{
    const auto raw = mesh::readModel(reference("stl-models/objects/bunny.bin.stl"));
    REQUIRE(raw.ok());
    const auto closed = mesh::repaired(raw->mesh);
    REQUIRE(closed.ok());
    requireAgreement(closed->mesh, {mesh::planeAt({0, 0, 1}, 3), mesh::planeAt({0.31, 0.83, 0.47}, 1.2345),
                                    mesh::planeAt({-0.7, 0.2, 0.5}, -11)});
}

TEST_CASE("cut against manifold-3d: a gearwheel of forty teeth")
{
    const auto gear = mesh::readModel(reference("stl-models/objects/gearwheel.bin.stl"));
    REQUIRE(gear.ok());
    requireAgreement(gear->mesh, {mesh::planeAt({1, 0, 0}, 7.1), mesh::planeAt({0.6, 0.8, 0}, 20),
                                  mesh::planeAt({0.31, 0.83, 0.47}, 1.2345)});
}
