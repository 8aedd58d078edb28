// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/split_job.h"
#include "mesh/mass.h"
#include "mesh/primitives.h"
#include "mesh/write_model.h"
#include "tests/support/scratch.h"

#include <catch2/catch.hpp>

using namespace quoin;
using namespace quoin::core;
using quoin::test::ScratchFolder;

namespace {

SplitRequest requestFor(const ScratchFolder& folder, const mesh::Mesh& m)
{
    SplitRequest r;
    r.file = folder / "model.stl";
    r.seconds = 1;
    REQUIRE(mesh::writeStl(r.file, m).ok());
    return r;
}

mesh::Vec3 sizeOf(const Project& p)
{
    return mesh::bounds(*p.part.mesh).extents();
}

bool says(const std::vector<std::string>& lines, const std::string& words)
{
    for (const std::string& line : lines)
        if (line.find(words) != std::string::npos)
            return true;
    return false;
}

} // namespace

TEST_CASE("scaling: by factor and by a wanted dimension")
{
    const ScratchFolder folder;
    SplitRequest r = requestFor(folder, mesh::box({0, 0, 0}, {20, 10, 40}));
    r.scaling = {Scaling::How::Factor, 7.5};
    CHECK(sizeOf(*split(r)).z == Approx(300));
    r.scaling = {Scaling::How::Width, 1800};
    CHECK(sizeOf(*split(r)).x == Approx(1800));
    r.scaling = {Scaling::How::Depth, 1800};
    CHECK(sizeOf(*split(r)).y == Approx(1800));
    r.scaling = {Scaling::How::Height, 1800};
    const auto tall = split(r);
    CHECK(sizeOf(*tall).z == Approx(1800));
    CHECK(tall->part.scale == Approx(45));
    r.scaling = {Scaling::How::Height, -3};
    CHECK(split(r).problem().reason == Reason::BadArgument);
}

TEST_CASE("scaling: units of a file that says none")
{
    const ScratchFolder folder;
    SplitRequest r = requestFor(folder, mesh::box({0, 0, 0}, {2, 1, 4}));
    r.read.unit = mesh::Unit::Inch;
    CHECK(sizeOf(*split(r)).x == Approx(50.8)); // 25.4 mm to the inch, exactly (international yard, 1959)
}

TEST_CASE("scaling: the largest that fits a bed uncut")
{
    const ScratchFolder folder;
    // A cube stands square on a square bed: turned, it would need more room. So 190 with 5 mm margin on each side.
    SplitRequest r = requestFor(folder, mesh::box({0, 0, 0}, {10, 10, 10}));
    r.beds = {bedFromText("200x200x300", {}).value()};
    r.scaling = {Scaling::How::LargestOnBed, 0};
    const auto cube = split(r);
    REQUIRE(cube.ok());
    CHECK(cube->pieces.size() == 1);
    CHECK(sizeOf(*cube).x == Approx(190).epsilon(2e-3));
    CHECK(sizeOf(*cube).x <= 190 + 1e-6);
    // A thin square rod of side d = L/100 lies along the diagonal: L + d = 190 sqrt(2) (closed form).
    r = requestFor(folder, mesh::box({0, 0, 0}, {1000, 10, 10}));
    r.beds = {bedFromText("200x200x50", {}).value()};
    r.scaling = {Scaling::How::LargestOnBed, 0};
    const auto rod = split(r);
    REQUIRE(rod.ok());
    CHECK(sizeOf(*rod).x * 1.01 == Approx(190 * std::sqrt(2.0)).epsilon(2e-3));
}

TEST_CASE("scaling: the square-cube law is said")
{
    // Galileo 1638: at 12 times, surface 144, mass 1728 times (shared check values, section 7).
    mesh::Health before;
    before.extentsMm = {10, 10, 10};
    before.volumeMm3 = 1000;
    before.areaMm2 = 600;
    const auto lines = scalingLines(12, before);
    CHECK(says(lines, "cube, 1728 times"));
    CHECK(says(lines, "square, 144 times"));
    CHECK(says(lines, "proportion, 12 times: 0.2 mm of play becomes 2.40 mm"));
}

TEST_CASE("split: user's planes first, completed by the suggestion")
{
    const ScratchFolder folder;
    SplitRequest r = requestFor(folder, mesh::box({0, 0, 0}, {500, 100, 80}));
    r.planes = {mesh::planeAt({1, 0, 0}, 120)};
    r.beds = {bedFromText("200x200x200", {}).value()};
    const auto p = split(r);
    REQUIRE(p.ok());
    REQUIRE_FALSE(p->plan.empty());
    CHECK(p->plan.nodes[0].plane.normal == mesh::Vec3{1, 0, 0});
    CHECK(p->plan.nodes[0].plane.offset == 120);
    CHECK(p->pieces.size() >= 3);
    double sum = 0;
    for (const Piece& piece : p->pieces) {
        CHECK(piece.pose.slackMm >= -1e-5);
        sum += mesh::volume(piece.mesh);
    }
    CHECK(sum == Approx(500 * 100 * 80).epsilon(1e-9));
    CHECK(p->suggestion.bound.pieces <= static_cast<int>(p->pieces.size()));
}

TEST_CASE("split: clearances come from the material and the fit")
{
    const ScratchFolder folder;
    SplitRequest r = requestFor(folder, mesh::box({0, 0, 0}, {200, 80, 60}));
    r.planes = {mesh::planeAt({1, 0, 0}, 100)};
    r.material = "petg";
    r.fit = Fit::Press;
    const auto p = split(r);
    REQUIRE(p.ok());
    CHECK(p->part.material == "PETG");
    REQUIRE(p->layout.joints.size() == 2);
    CHECK(p->layout.joints[0].clearanceMm == Approx(0.10));
    r.material = "granite";
    CHECK(split(r).problem().reason == Reason::BadArgument);
}

TEST_CASE("split: what can't fit is refused, not cut wrongly")
{
    const ScratchFolder folder;
    SplitRequest r = requestFor(folder, mesh::box({0, 0, 0}, {200, 80, 60}));
    r.beds = {bedFromText("20x20x20", {}).value()};
    r.marginMm = 15;
    const auto p = split(r);
    REQUIRE_FALSE(p.ok());
    CHECK((p.problem().reason == Reason::DoesNotFit || p.problem().reason == Reason::BadArgument));
}
