// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/cut_steps.h"
#include "core/realise.h"
#include "mesh/mass.h"
#include "mesh/primitives.h"

#include <catch2/catch.hpp>

namespace quoin::core {

namespace {

std::vector<double> volumesOf(const CutPart& part)
{
    std::vector<double> out;
    for (const Leaf& leaf : part.leaves)
        out.push_back(mesh::volume(leaf.mesh));
    return out;
}

const mesh::Mesh& cube()
{
    static const mesh::Mesh mesh = mesh::box({0, 0, 0}, {10, 10, 10});
    return mesh;
}

} // namespace

TEST_CASE("cut steps: a cut of the whole cuts every piece that it meets", "[cut_steps]")
{
    const auto part = cutBySteps(
        cube(), {{1, "", mesh::planeAt({0, 0, 1}, 4), true, {}}, {2, "", mesh::planeAt({1, 0, 0}, 3), true, {}}});
    REQUIRE(part.ok());
    CHECK(part->plan.nodes.size() == 3);
    CHECK(part->cutOfNode == std::vector<int>{1, 2, 2});
    const std::vector<double> v = volumesOf(*part);
    REQUIRE(v.size() == 4);
    // Below before above, depth first.
    CHECK(v[0] == Approx(3 * 10 * 4));
    CHECK(v[1] == Approx(7 * 10 * 4));
    CHECK(v[2] == Approx(3 * 10 * 6));
    CHECK(v[3] == Approx(7 * 10 * 6));
}

TEST_CASE("cut steps: a cut within one side leaves the other whole", "[cut_steps]")
{
    const auto part = cutBySteps(cube(), {{1, "", mesh::planeAt({0, 0, 1}, 4), true, {}},
                                          {2, "", mesh::planeAt({1, 0, 0}, 3), true, {{1, true}}}});
    REQUIRE(part.ok());
    const std::vector<double> v = volumesOf(*part);
    REQUIRE(v.size() == 3);
    CHECK(v[0] == Approx(400));
    CHECK(v[1] == Approx(180));
    CHECK(part->plan.nodes[0].below == -1);
    CHECK(part->plan.nodes[0].above == 1);
    CHECK(sidesOf(part->leaves[1].path, part->cutOfNode) == std::vector<CutSide>{{1, true}, {2, false}});
}

TEST_CASE("cut steps: a cut that is switched off neither cuts nor limits", "[cut_steps]")
{
    const auto part = cutBySteps(cube(), {{1, "", mesh::planeAt({0, 0, 1}, 4), false, {}},
                                          {2, "", mesh::planeAt({1, 0, 0}, 3), true, {{1, true}}}});
    REQUIRE(part.ok());
    const std::vector<double> v = volumesOf(*part);
    REQUIRE(v.size() == 2);
    CHECK(v[0] == Approx(300));
}

TEST_CASE("cut steps: a limit by a cut that misses the piece goes by the side it lies on", "[cut_steps]")
{
    const std::vector<CutStep> above{{1, "", mesh::planeAt({0, 0, 1}, -5), true, {}},
                                     {2, "", mesh::planeAt({1, 0, 0}, 3), true, {{1, true}}}};
    std::vector<CutStep> below = above;
    below[1].within = {{1, false}};
    CHECK(cutBySteps(cube(), above)->leaves.size() == 2);
    CHECK(cutBySteps(cube(), below)->leaves.size() == 1);
}

TEST_CASE("cut steps: the plan cuts into the very same leaves", "[cut_steps]")
{
    const auto part = cutBySteps(cube(), {{1, "", mesh::planeAt({0, 0.3, 1}, 4), true, {}},
                                          {2, "", mesh::planeAt({1, 0.1, 0}, 3), true, {}},
                                          {3, "", mesh::planeAt({0, 1, 0.2}, 6), true, {{2, false}}}});
    REQUIRE(part.ok());
    const auto again = cutByPlan(cube(), part->plan);
    REQUIRE(again.ok());
    REQUIRE(again->size() == part->leaves.size());
    for (std::size_t i = 0; i < again->size(); ++i) {
        CHECK((*again)[i].path == part->leaves[i].path);
        CHECK(mesh::volume((*again)[i].mesh) == mesh::volume(part->leaves[i].mesh));
        CHECK((*again)[i].mesh.labels == part->leaves[i].mesh.labels);
    }
}

TEST_CASE("cut steps: cancelled", "[cut_steps]")
{
    Context context;
    context.cancel();
    const auto part = cutBySteps(cube(), {{1, "", mesh::planeAt({0, 0, 1}, 4), true, {}}}, context);
    REQUIRE_FALSE(part.ok());
    CHECK(part.problem().reason == Reason::Cancelled);
}

TEST_CASE("realise: stages come in their order and a piece that fits nowhere says by how much", "[realise]")
{
    PartDesign part;
    part.name = "bar";
    part.source = std::make_shared<const mesh::Mesh>(mesh::box({0, 0, 0}, {10, 10, 30}));
    part.scale = 10;
    part = withCut(part, mesh::planeAt({0, 0, 1}, 120));
    Design design;
    design.beds = {{"b", Bed::Shape::Rectangular, 130, 130, 160, 1}};
    design = withPart(design, part);
    std::vector<Realised::Stage> stages;
    const auto done = realise(design, design.parts[0], {}, [&](const RealisedPtr& r) { stages.push_back(r->stage); });
    REQUIRE(done.ok());
    CHECK(stages == std::vector{Realised::Stage::Cut, Realised::Stage::Posed, Realised::Stage::Jointed});
    const Realised& r = **done;
    REQUIRE(r.project.pieces.size() == 2);
    // 100 x 100 x 120 fits 120 x 120 x 155 of room; 100 x 100 x 180 sticks out by 180 - 155 standing.
    CHECK(r.project.pieces[0].pose.slackMm >= 0);
    CHECK(r.project.pieces[1].pose.slackMm == Approx(-25));
    CHECK_FALSE(r.fitsBeds());
    CHECK(r.project.seams.size() == 1);
    CHECK_FALSE(r.project.layout.joints.empty());
}

TEST_CASE("realise: what would come out the same is taken from before", "[realise]")
{
    PartDesign part;
    part.name = "bar";
    part.source = std::make_shared<const mesh::Mesh>(mesh::box({0, 0, 0}, {100, 100, 300}));
    part = withCut(part, mesh::planeAt({0, 0, 1}, 120));
    Design design;
    design.beds = {{"b", Bed::Shape::Rectangular, 130, 130, 190, 1}};
    design = withPart(design, part);
    const auto first = realise(design, design.parts[0]);
    REQUIRE(first.ok());
    Design next = design;
    next.parts[0] = withCut(next.parts[0], mesh::planeAt({0, 0, 1}, 200));
    const auto second = realise(next, next.parts[0], *first);
    const auto fresh = realise(next, next.parts[0]);
    REQUIRE((second.ok() && fresh.ok()));
    CHECK((*second)->project.part.mesh == (*first)->project.part.mesh);
    REQUIRE((*second)->project.pieces.size() == 3);
    for (std::size_t i = 0; i < 3; ++i)
        CHECK((*second)->project.pieces[i].pose.printFromAssembled.m ==
              (*fresh)->project.pieces[i].pose.printFromAssembled.m);
    // Another bed: the poses are found anew.
    next.beds[0].heightMm = 50;
    CHECK_FALSE((*realise(next, next.parts[0], *second))->fitsBeds());
}

} // namespace quoin::core
