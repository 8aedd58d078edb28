// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/scene_builder.h"

#include "core/realise.h"
#include "tests/support/shapes.h"
#include "ui/yardstick.h"

#include <algorithm>
#include <catch2/catch.hpp>

#include <cmath>
#include <map>

using namespace quoin;
using mesh::Plane;
using mesh::Vec3;
using ui::JobStep;
using ui::ViewState;

namespace {

double areaOf(const std::vector<Vec3>& polygon)
{
    Vec3 sum{0, 0, 0};
    for (std::size_t i = 2; i < polygon.size(); ++i)
        sum = sum + 0.5 * cross(polygon[i - 1] - polygon[0], polygon[i] - polygon[0]);
    return mesh::length(sum);
}

mesh::Box3 box(Vec3 min, Vec3 max)
{
    mesh::Box3 b;
    b.add(min);
    b.add(max);
    return b;
}

/// A design of boxes, worked out.
struct Scene {
    core::Design design;
    std::map<int, ui::PartShown> shown;
    ViewState state;

    int add(const mesh::Mesh& mesh, double scale = 1)
    {
        core::PartDesign part;
        part.name = "box";
        part.scale = scale;
        part.source = std::make_shared<const mesh::Mesh>(mesh);
        int id = 0;
        design = core::withPart(design, part, &id);
        state.part = id;
        return id;
    }
    ui::BuiltScene build()
    {
        for (const core::PartDesign& part : design.parts) {
            ui::PartShown& made = shown[part.id];
            auto source = std::make_shared<ui::SourceView>();
            source->shown = ui::shownMesh(part.source, {});
            made.source = source;
            const auto realised = core::realise(design, part);
            REQUIRE(realised);
            made.view = ui::partView(*realised, nullptr, {});
        }
        return ui::buildScene(
            design, [this](int id) { return shown.at(id); }, state);
    }
};

} // namespace

TEST_CASE("scene: a plane through a box, with its rim")
{
    // 3-4-12 box: diagonal 13, rim 0.06 of it on each side.
    const mesh::Box3 b = box({0, 0, 0}, {3, 4, 12});
    const double rim = 2 * 0.06 * 13;
    const auto level = ui::planeThroughBox({{0, 0, 1}, 6}, b, {});
    REQUIRE(level.size() == 4);
    CHECK(areaOf(level) == Approx((3 + rim) * (4 + rim)));
    for (const Vec3& p : level)
        CHECK(p.z == Approx(6));
    // Tilted about y: longer by the cosine.
    const double c = std::cos(0.3);
    const auto tilted = ui::planeThroughBox({{std::sin(0.3), 0, c}, c * 6 + std::sin(0.3) * 1.5}, b, {});
    CHECK(areaOf(tilted) == Approx((3 + rim) * (4 + rim) / c));
    CHECK(ui::planeThroughBox({{0, 0, 1}, 12.5}, b, {}).size() == 4); // in the rim
    CHECK(ui::planeThroughBox({{0, 0, 1}, 14}, b, {}).empty());
    // A corner cut off is a triangle.
    const double third = 1 / std::sqrt(3.0);
    CHECK(ui::planeThroughBox({{third, third, third}, -0.2}, b, {}).size() == 3);
}

TEST_CASE("scene: a plane is limited to the sides of other cuts")
{
    const mesh::Box3 b = box({0, 0, 0}, {3, 4, 12});
    const double rim = 0.06 * 13;
    const Plane wall{{1, 0, 0}, 1};
    const auto above = ui::planeThroughBox({{0, 0, 1}, 6}, b, {{wall, true}});
    const auto below = ui::planeThroughBox({{0, 0, 1}, 6}, b, {{wall, false}});
    CHECK(areaOf(above) == Approx((2 + rim) * (4 + 2 * rim)));
    CHECK(areaOf(below) == Approx((1 + rim) * (4 + 2 * rim)));
    CHECK(ui::planeThroughBox({{0, 0, 1}, 6}, b, {{wall, true}, {{{1, 0, 0}, 0.5}, false}}).empty());
}

TEST_CASE("scene: parts stand in a row on the floor, hidden ones take no room")
{
    Scene s;
    s.add(test::cuboid({10, 10, 10}, {110, 60, 40}));   // 100 x 50 x 30
    s.add(test::cuboid({-5, -5, -50}, {5, 5, 50}), 10); // 100 x 100 x 1000
    s.add(test::cuboid({0, 0, 0}, {200, 20, 20}));
    const auto row = ui::rowOf(s.design, s.state);
    REQUIRE(row.size() == 3);
    const double gap = 0.18 * 1000; // of the largest
    CHECK(row[0] == Vec3{-10, -35, -10});
    CHECK(row[1].x - 50 == Approx(100 + gap));
    CHECK(row[1].z == Approx(500));
    CHECK(row[2].x == Approx(200 + 2 * gap));
    s.design.parts[1].visible = false;
    const auto fewer = ui::rowOf(s.design, s.state);
    CHECK(fewer[2].x == Approx(100 + 60)); // the least gap
    // While it is being scaled, with the live scale.
    s.design.parts[1].visible = true;
    s.state.part = s.design.parts[1].id;
    s.state.liveScale = 20;
    CHECK(ui::rowOf(s.design, s.state)[1].z == Approx(1000));
    // Alone, it stands where its own coordinates say.
    s.state.liveScale.reset();
    s.state.step = JobStep::Cut;
    for (const Vec3& shift : ui::rowOf(s.design, s.state))
        CHECK(shift == Vec3{0, 0, 0});
    CHECK(ui::isShown(s.design.parts[1], s.state));
    CHECK_FALSE(ui::isShown(s.design.parts[0], s.state));
}

TEST_CASE("scene: person and bed stand beside the model at true size")
{
    Scene s;
    s.design.beds = {{"b", core::Bed::Shape::Rectangular, 300, 200, 400, 1}};
    s.add(test::cuboid({0, 0, 0}, {100, 100, 500}));
    const ui::BuiltScene with = s.build();
    CHECK(with.model.extents().z == Approx(500));
    CHECK(with.all.max.z - with.all.min.z == Approx(1750).epsilon(0.02)); // the person
    CHECK(with.all.max.x == Approx(with.model.max.x + 0.18 * 500 + 300)); // gap and bed
    REQUIRE(with.notes.size() == 2);
    CHECK(with.notes[0].text == "1.75 m");
    CHECK(with.notes[1].text == "bed 300 \u00D7 200 \u00D7 400 mm");
    s.state.person = s.state.bed = false;
    const ui::BuiltScene without = s.build();
    CHECK(without.notes.empty());
    CHECK(without.all.extents().z == Approx(500));
}

TEST_CASE("scene: pieces, their numbers, and how they are shown")
{
    Scene s;
    s.design.beds = {{"b", core::Bed::Shape::Rectangular, 300, 200, 320, 1}};
    const int id = s.add(test::cuboid({0, 0, 0}, {100, 100, 500}));
    s.design.parts[0] = core::withCut(s.design.parts[0], {{0, 0, 1}, 200});
    s.state.person = s.state.bed = false;
    ui::BuiltScene built = s.build();
    REQUIRE(built.bodies.size() == 2);
    REQUIRE(built.badges.size() == 2);
    CHECK(built.scene->items.size() == 2);
    CHECK(built.bodies[0].part == id);
    CHECK(built.badges[0].anchor.z + built.badges[1].anchor.z == Approx(100 + 350)); // middles of both
    s.state.pieces = {2};
    built = s.build();
    CHECK(built.scene->items[1].glowing);
    CHECK_FALSE(built.scene->items[0].glowing);
    CHECK(built.selection.extents().z < 500);
    s.state.isolate = true;
    built = s.build();
    REQUIRE(built.bodies.size() == 1);
    CHECK(built.bodies[0].piece == 2);
    s.state.isolate = false;
    s.state.seeThrough = true;
    built = s.build();
    CHECK(built.scene->items[0].opacity < 1);
    s.state.seeThrough = false;
    s.state.explode = 0.5;
    built = s.build();
    const double apart =
        std::abs(built.bodies[1].placement.point({0, 0, 0}).z - built.bodies[0].placement.point({0, 0, 0}).z);
    CHECK(apart == Approx(ui::explodedGapMm(*s.shown[id].view, s.state)));
    CHECK(apart == Approx(0.5 * 0.28 * std::sqrt(2 * 100. * 100 + 500 * 500)));
    // One that fits no bed has a mark at its number.
    s.design.beds[0].heightMm = 250;
    s.design.beds[0].widthMm = s.design.beds[0].depthMm = 150;
    s.state.explode = 0;
    built = s.build();
    CHECK((built.badges[0].text.ends_with("!") || built.badges[1].text.ends_with("!")));
}

TEST_CASE("scene: cut planes and the section are drawn while cutting only")
{
    Scene s;
    s.add(test::cuboid({0, 0, 0}, {100, 100, 500}));
    s.design.parts[0] = core::withCut(s.design.parts[0], {{0, 0, 1}, 200});
    s.design.parts[0] = core::withCut(s.design.parts[0], {{1, 0, 0}, 30}, {{1, true}});
    s.state.person = s.state.bed = false;
    CHECK(s.build().scene->patches.empty());
    s.state.step = JobStep::Cut;
    s.state.cut = 2;
    auto section = std::make_shared<core::CutSection>();
    section->plane = {{0, 0, 1}, 200};
    section->outline = {{{0, 0}, {100, 0}, {100, 100}, {0, 100}}};
    section->areaMm2 = 10000;
    s.state.liveSection = section;
    ui::BuiltScene built = s.build();
    REQUIRE(built.scene->patches.size() == 2);
    for (const Vec3& p : built.scene->patches[1].corners)
        CHECK(p.z >= 200 - 1e-9);                                             // within the side above the first
    CHECK(built.scene->patches[1].opacity > built.scene->patches[0].opacity); // the selected one
    // The section's own outline, among those of the planes.
    CHECK(std::any_of(built.scene->lines.begin(), built.scene->lines.end(), [](const ui::ViewPolyline& line) {
        return line.closed && line.widthPx == 3 && line.points.size() == 4 && std::abs(line.points[2].x) == 100 &&
               std::abs(line.points[2].y) == 100 && line.points[2].z == 200;
    }));
    // Switched off: only while it is the selected one.
    s.design.parts[0].cuts[1].enabled = false;
    CHECK(s.build().scene->patches.size() == 2);
    s.state.cut = 1;
    CHECK(s.build().scene->patches.size() == 1);
    // While it is dragged, where the hand has it.
    s.state.livePlane = {1, {{0, 0, 1}, 300}};
    built = s.build();
    CHECK(built.scene->patches[0].corners[0].z == Approx(300));
    // A suggestion takes their place.
    s.state.preview = core::CutPlan{};
    CHECK(s.build().scene->patches.empty());
    // Each of its planes within its own cell, the one that is picked in another colour.
    s.state.preview->nodes = {{{{0, 0, 1}, 50}, 1, -1}, {{{1, 0, 0}, 50}, -1, -1}};
    built = s.build();
    REQUIRE(built.scene->patches.size() == 2);
    for (const Vec3 p : built.scene->patches[1].corners)
        CHECK(p.z <= 50 + 1e-6);
    const auto plain = built.scene->patches[1].colour;
    s.state.previewCut = 1;
    CHECK_FALSE(s.build().scene->patches[1].colour == plain);
}
