// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/cut_plan.h"
#include "core/design.h"
#include "mesh/primitives.h"

#include <catch2/catch.hpp>

namespace quoin::core {

namespace {

PartDesign boxPart()
{
    PartDesign part;
    part.id = 1;
    part.name = "box";
    part.source = std::make_shared<const mesh::Mesh>(mesh::box({0, 0, 0}, {10, 20, 30}));
    return part;
}

} // namespace

TEST_CASE("design: another scale takes cuts and hand-placed joints along", "[design]")
{
    PartDesign part = withCut(boxPart(), mesh::planeAt({0, 0, 1}, 12));
    const mesh::PlaneFrame before = mesh::frameOf(part.cuts[0].plane);
    part.faces.push_back({1, {2, 3}, FaceChoice::How::ByHand, {}, {}, {}, {dowelForm({4, 5}, 8, 12)}});
    part.load.extra = {{{1, 2, 3}, {0, 0, -50}, 0}};
    const PartDesign large = withScale(part, 2.5);
    CHECK(large.scale == 2.5);
    CHECK(large.cuts[0].plane.offset == Approx(30));
    // A place on the face is the same place of the part, 2.5 times as far from its origin.
    const mesh::PlaneFrame after = mesh::frameOf(large.cuts[0].plane);
    CHECK(mesh::length(after.space(large.faces[0].joints[0].at) - 2.5 * before.space({4, 5})) < 1e-12);
    CHECK(large.faces[0].joints[0].diameterMm == 8);
    CHECK(large.load.extra[0].at == mesh::Vec3{2.5, 5, 7.5});
    CHECK(large.load.extra[0].forceN == mesh::Vec3{0, 0, -50}); // a hand pushes no harder
    CHECK(scaledBounds(large).max.z == Approx(75));
    CHECK(part.scale == 1); // the caller's stays
}

TEST_CASE("design: parts of one scale are scaled together, others stay", "[design]")
{
    Design design;
    for (const double scale : {2.0, 2.0, 3.0}) {
        PartDesign part = boxPart();
        part.scale = scale;
        design = withPart(design, part);
    }
    const Design out = withCommonScale(design, 1, 5);
    CHECK(out.parts[0].scale == 5);
    CHECK(out.parts[1].scale == 5);
    CHECK(out.parts[2].scale == 3);
}

TEST_CASE("design: another unit makes the model, its cuts and its place larger", "[design]")
{
    PartDesign part = withCut(boxPart(), mesh::planeAt({0, 0, 1}, 12));
    part.places = {mesh::Transform::translation({1, 2, 3})};
    part.scale = 2;
    part.load.extra = {{{10, 0, 0}, {0, 0, -50}, 0}};
    const PartDesign inch = withUnit(part, mesh::Unit::Inch);
    CHECK(scaledBounds(inch).max.z == Approx(2 * 25.4 * 30)); // an inch is 25.4 mm exactly
    CHECK(inch.cuts[0].plane.offset == Approx(25.4 * 12));
    CHECK(inch.places[0].m[7] == Approx(25.4 * 2));
    CHECK(inch.load.extra[0].at.x == Approx(254));
    CHECK(inch.scale == 2);
    CHECK(withUnit(inch, mesh::Unit::Millimetre).source->points[7].x == Approx(part.source->points[7].x));
}

TEST_CASE("design: cuts get ids that are never used again", "[design]")
{
    int first = 0, second = 0, third = 0;
    PartDesign part = withCut(boxPart(), mesh::planeAt({0, 0, 1}, 10), {}, &first);
    part = withCut(part, mesh::planeAt({0, 0, 1}, 20), {{first, true}}, &second);
    part = withoutCut(part, second);
    part = withCut(part, mesh::planeAt({1, 0, 0}, 5), {}, &third);
    CHECK(first == 1);
    CHECK(second == 2);
    CHECK(third == 3);
    CHECK(cutOf(part, second) == nullptr);
    REQUIRE(cutOf(part, third) != nullptr);
}

TEST_CASE("design: a cut that goes takes its limits and its faces' choices with it", "[design]")
{
    PartDesign part = withCut(boxPart(), mesh::planeAt({0, 0, 1}, 10));
    part = withCut(part, mesh::planeAt({1, 0, 0}, 5), {{1, true}});
    part.faces = {{1, {0, 0}, FaceChoice::How::Plain, {}, {}, {}, {}},
                  {2, {0, 0}, FaceChoice::How::Plain, {}, {}, {}, {}}};
    const PartDesign out = withoutCut(part, 1);
    REQUIRE(out.cuts.size() == 1);
    CHECK(out.cuts[0].within.empty());
    REQUIRE(out.faces.size() == 1);
    CHECK(out.faces[0].cut == 2);
}

TEST_CASE("design: a cut moved before one that limits it reaches across", "[design]")
{
    PartDesign part = withCut(boxPart(), mesh::planeAt({0, 0, 1}, 10));
    part = withCut(part, mesh::planeAt({1, 0, 0}, 5), {{1, true}});
    const PartDesign up = withCutMoved(part, 2, 0);
    REQUIRE(up.cuts.size() == 2);
    CHECK(up.cuts[0].id == 2);
    CHECK(up.cuts[0].within.empty());
    const PartDesign same = withCutMoved(part, 1, 0);
    CHECK(same.cuts[1].within == std::vector<CutSide>{{1, true}});
    CHECK(withCutMoved(part, 1, 99).cuts.back().id == 1);
}

TEST_CASE("design: a turned cut forgets what was chosen for its faces, a moved one keeps it", "[design]")
{
    PartDesign part = withCut(boxPart(), mesh::planeAt({0, 0, 1}, 10));
    part.faces = {{1, {0, 0}, FaceChoice::How::Plain, {}, {}, {}, {}}};
    CHECK(withCutPlane(part, 1, mesh::planeAt({0, 0, 1}, 11)).faces.size() == 1);
    CHECK(withCutPlane(part, 1, mesh::planeAt({0, 1, 1}, 10)).faces.empty());
}

TEST_CASE("design: the cuts of a plan each stay within their branch", "[design]")
{
    CutPlan plan;
    plan.nodes = {{mesh::planeAt({0, 0, 1}, 10), 1, 2},
                  {mesh::planeAt({1, 0, 0}, 5), -1, -1},
                  {mesh::planeAt({0, 1, 0}, 5), -1, -1}};
    PartDesign part = withCut(boxPart(), mesh::planeAt({0, 0, 1}, 3));
    part = withPlan(part, plan, "by hand");
    REQUIRE(part.cuts.size() == 3);
    CHECK(part.cuts[0].within.empty());
    CHECK(part.cuts[1].within == std::vector<CutSide>{{part.cuts[0].id, false}});
    CHECK(part.cuts[2].within == std::vector<CutSide>{{part.cuts[0].id, true}});
    CHECK(part.cuts[0].id == 2); // ids go on counting
    CHECK(part.suggestionWords == "by hand");
}

TEST_CASE("design: parts get names of their own", "[design]")
{
    Design design;
    int a = 0, b = 0;
    design = withPart(design, boxPart(), &a);
    design = withPart(design, boxPart(), &b);
    CHECK(a != b);
    CHECK(design.parts[1].name == "box 2");
    design = withoutPart(design, a);
    int c = 0;
    design = withPart(design, boxPart(), &c);
    CHECK(c == 3);
    CHECK(design.part(a) == nullptr);
    CHECK(design.part(c)->name == "box");
}

TEST_CASE("design: marked triangles are a set", "[design]")
{
    PartDesign part = withKeepClear(boxPart(), {7, 3, 3, 5}, true);
    CHECK(part.keepClear == std::vector<mesh::Index>{3, 5, 7});
    part = withKeepClear(part, {5, 1}, false);
    CHECK(part.keepClear == std::vector<mesh::Index>{3, 7});
    CHECK(withKeepClear(part, {4}, true).keepClear == std::vector<mesh::Index>{3, 4, 7});
}

} // namespace quoin::core
