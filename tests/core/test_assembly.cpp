// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/assembly.h"
#include "core/assembly_json.h"
#include "mesh/primitives.h"
#include "tests/support/plans.h"
#include "tests/support/screwed_boxes.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <functional>

using namespace quoin;
using namespace quoin::core;
using mesh::Vec3;
using Kind = JointForm::Kind;

namespace {

/// Pieces with their cuts, seams and joints, all kept together.
struct Set {
    std::vector<mesh::Mesh> meshes;
    std::vector<Path> paths;
    CutPlan plan;
    std::vector<Seam> seams;
    std::vector<Joint> joints;

    AssemblyInput input() const
    {
        AssemblyInput in{{}, paths, &plan, &seams, &joints};
        for (const mesh::Mesh& m : meshes)
            in.meshes.push_back(&m);
        return in;
    }
    AssemblyPlan order() const { return planAssembly(input()); }
    void seam(int cut, int below, int above)
    {
        Seam s;
        s.cut = cut;
        s.pieceBelow = below;
        s.pieceAbove = above;
        s.mark = std::string(1, static_cast<char>('A' + seams.size()));
        seams.push_back(s);
    }
    /// A joint whose axis goes through a point of the part.
    Joint made(std::size_t onSeam, Kind kind, Vec3 through) const
    {
        Joint j;
        j.seam = onSeam;
        j.kind = kind;
        j.at = mesh::frameOf(plan.nodes[static_cast<std::size_t>(seams[onSeam].cut)].plane).flat(through);
        j.diameterMm = kind == Kind::Screw || kind == Kind::Stud ? 40 : 8;
        j.depthMm = kind == Kind::Screw || kind == Kind::Stud ? 36 : 12;
        j.thread.pitchMm = 6;
        return j;
    }
    void joint(std::size_t onSeam, Kind kind, Vec3 through) { joints.push_back(made(onSeam, kind, through)); }
};

/// A lower and an upper box that touch in z = 0.
Set twoBoxes()
{
    Set s;
    s.plan = test::planOf({{{0, 0, 1}, 0}});
    s.meshes = {mesh::box({-50, -50, -80}, {50, 50, 0}), mesh::box({-50, -50, 0}, {50, 50, 60})};
    s.paths = {{{0, false}}, {{0, true}}};
    s.seam(0, 1, 2);
    return s;
}

/// A third box that was cut off first, along x = 51, from both: beside them, with a gap of a millimetre.
Set threeBoxes(double upperReach = 50)
{
    Set s;
    s.plan.nodes = {{{{1, 0, 0}, 51}, 1, -1}, {{{0, 0, 1}, 0}, -1, -1}};
    s.meshes = {mesh::box({-50, -50, -80}, {upperReach, 50, 0}), mesh::box({-50, -50, 0}, {upperReach, 50, 60}),
                mesh::box({51, -50, -80}, {90, 50, 200})};
    s.paths = {{{0, false}, {1, false}}, {{0, false}, {1, true}}, {{0, true}}};
    s.seam(1, 1, 2);
    return s;
}

/// Four quarters of a ring about z; cuts x = 0, then y = 0 on either side.
Set ringOfFour()
{
    Set s;
    s.plan.nodes = {{{{1, 0, 0}, 0}, 1, 2}, {{{0, 1, 0}, 0}, -1, -1}, {{{0, 1, 0}, 0}, -1, -1}};
    const mesh::Region quarter{{{0, 60}, {0, 100}, {-100, 100}, {-100, 0}, {-60, 0}, {-60, 60}}};
    const mesh::Mesh one = mesh::prism(quarter, 40);
    const auto turned = [&](double angle) {
        return mesh::transformed(one, mesh::Transform::rotation({0, 0, 1}, angle));
    };
    // -x -y, -x +y, +x -y, +x +y.
    s.meshes = {turned(M_PI / 2), one, turned(M_PI), turned(-M_PI / 2)};
    s.paths = {{{0, false}, {1, false}}, {{0, false}, {1, true}}, {{0, true}, {2, false}}, {{0, true}, {2, true}}};
    s.seam(0, 1, 3);
    s.seam(0, 2, 4);
    s.seam(1, 1, 2);
    s.seam(2, 3, 4);
    return s;
}

bool has(const std::string& text, const std::string& words)
{
    INFO(text);
    CHECK(text.find(words) != std::string::npos);
    return text.find(words) != std::string::npos;
}

} // namespace

TEST_CASE("assembly: dowels go straight together, nothing is swept")
{
    Set s = twoBoxes();
    s.joint(0, Kind::Dowel, {20, 0, 0});
    s.joint(0, Kind::Dowel, {-20, 0, 0});
    const AssemblyPlan order = s.order();
    REQUIRE(order.complete());
    REQUIRE(order.steps.size() == 1);
    const AssemblyStep& step = order.steps[0];
    CHECK(step.words == "Push 2 onto 1 along (0, 0, -1), 2 dowels of 8 mm.");
    CHECK(step.moving == std::vector<int>{2});
    CHECK(step.joints == std::vector<std::size_t>{0, 1});
    CHECK_FALSE(measureStep(s.input(), step).swept);
    CHECK(measureStep(s.input(), step).gapMm == Approx(0).margin(1e-12));
}

TEST_CASE("assembly: a screw makes its piece turn, with what is round and on its axis only")
{
    Set s = twoBoxes();
    s.joint(0, Kind::Screw, {5, 5, 0});
    const AssemblyPlan order = s.order();
    REQUIRE(order.complete());
    const Motion& m = order.steps.at(0).motion;
    CHECK(m.kind == Motion::Kind::Helix);
    CHECK(m.leadMm == 6);
    CHECK(m.turns() == Approx(6));
    CHECK(m.direction == Vec3{0, 0, -1});
    has(order.steps[0].words, "Screw 2 onto 1 along (0, 0, -1) by 6.0 turns, clockwise seen from behind it");

    Set round = s;
    round.joint(0, Kind::Dowel, {5, 5, 0});
    CHECK(round.order().complete());
    Set bolted = s;
    bolted.joint(0, Kind::DrawBolt, {30, 0, 0});
    CHECK(bolted.order().complete());
    for (const Kind kind : {Kind::Dowel, Kind::Key, Kind::Screw, Kind::Stud, Kind::Dovetail}) {
        Set blocked = s;
        blocked.joint(0, kind, {30, 5, 0});
        const AssemblyPlan none = blocked.order();
        INFO(kindName(kind));
        REQUIRE(none.problems.size() == 1);
        CHECK(none.problems[0].pieces == std::vector<int>{1, 2});
        has(none.problems[0].text, "25.0 mm off the axis");
    }
    Set keyed = s;
    keyed.joint(0, Kind::Dowel, {5, 5, 0});
    keyed.joints.back().keyed = true;
    CHECK_FALSE(keyed.order().complete());
}

TEST_CASE("assembly: eight turns, a left-hand thread, a stud")
{
    Set s = twoBoxes();
    s.joint(0, Kind::Stud, {0, 0, 0});
    s.joints[0].depthMm = 48;
    s.joints[0].thread.leftHand = true;
    const AssemblyPlan order = s.order();
    REQUIRE(order.complete());
    CHECK(order.steps[0].motion.turns() == Approx(8));
    CHECK(order.steps[0].motion.leadMm == -6);
    has(order.steps[0].words, "8.0 turns, counter-clockwise");
    has(order.steps[0].words, ", 1 left-hand stud of 40 mm, lead 6 mm.");
}

TEST_CASE("assembly: what turns goes before the neighbour that would be in its way")
{
    Set s = threeBoxes();
    s.seam(0, 2, 3);
    s.joint(0, Kind::Screw, {0, 0, 0});
    const AssemblyPlan order = s.order();
    REQUIRE(order.complete());
    REQUIRE(order.steps.size() == 2);
    CHECK(order.steps[0].motion.kind == Motion::Kind::Helix);
    CHECK(order.steps[0].moving == std::vector<int>{2});
    CHECK(order.steps[1].motion.kind == Motion::Kind::Straight);
}

TEST_CASE("assembly: the other order is found where the cuts' own order would not do")
{
    // First cut: z = 0 with a screw; the upper half was then cut along x, and its far part stands in the way until it
    // is off: it leaves first, with a push along x, then the screw turns.
    Set s;
    s.plan.nodes = {{{{0, 0, 1}, 0}, -1, 1}, {{{1, 0, 0}, 51}, -1, -1}};
    s.meshes = {mesh::joined(mesh::box({-50, -50, -80}, {50, 50, 0}), mesh::box({50.5, -50, -80}, {100, 50, -20})),
                mesh::box({-50, -50, 0}, {51, 50, 60}), mesh::box({51, -50, -19}, {100, 50, 60})};
    s.paths = {{{0, false}}, {{0, true}, {1, false}}, {{0, true}, {1, true}}};
    s.seam(0, 1, 2);
    s.seam(0, 1, 3);
    s.seam(1, 2, 3);
    s.joint(0, Kind::Screw, {0, 0, 0});
    s.joint(1, Kind::Dowel, {75, 0, 0});
    const AssemblyPlan order = s.order();
    // The dowel of the far part forbids that both are turned on together.
    REQUIRE(order.complete());
    REQUIRE(order.steps.size() == 2);
    CHECK(order.steps[0].motion.kind == Motion::Kind::Helix);
    CHECK(order.steps[0].moving == std::vector<int>{2});
    CHECK(order.steps[1].moving == std::vector<int>{3});
    CHECK(order.steps[1].motion.kind == Motion::Kind::Straight);
    CHECK(order.steps[1].motion.direction == Vec3{0, 0, -1});
    CHECK_FALSE(order.blocking.empty());
}

TEST_CASE("assembly: a ring of four quarters goes together by halves, not with a screw in every joint")
{
    Set s = ringOfFour();
    for (const std::size_t seam : {0, 1})
        s.joint(seam, Kind::Dowel, {0, seam == 0 ? -80.0 : 80.0, 20});
    s.joint(2, Kind::Dowel, {-80, 0, 20});
    s.joint(3, Kind::Screw, {80, 0, 20});
    const AssemblyPlan order = s.order();
    REQUIRE(order.complete());
    REQUIRE(order.steps.size() == 3);
    CHECK(order.steps[2].moving.size() == 2);
    // Screws across the first cut: the halves have to be the other ones.
    Set screws = ringOfFour();
    for (const std::size_t seam : {0, 1})
        screws.joint(seam, Kind::Screw, {0, seam == 0 ? -80.0 : 80.0, 20});
    screws.joint(2, Kind::Dowel, {-80, 0, 20});
    screws.joint(3, Kind::Dowel, {80, 0, 20});
    const AssemblyPlan other = screws.order();
    REQUIRE(other.complete());
    REQUIRE(other.steps.size() == 3);
    CHECK(other.steps[2].motion.kind == Motion::Kind::Straight);
    CHECK(std::abs(other.steps[2].motion.direction.y) == Approx(1));
    CHECK(other.steps[0].motion.kind == Motion::Kind::Helix);
    screws.joints[2] = screws.made(2, Kind::Screw, {-80, 0, 20});
    const AssemblyPlan none = screws.order();
    REQUIRE(none.problems.size() == 1);
    CHECK(none.problems[0].pieces.size() == 4);
}

TEST_CASE("assembly: an L-shaped piece that hits its neighbour when it is turned is refused with place and measure")
{
    // The arm of 2 reaches along x over piece 1, which stands up beside it as a wall at y = 30.
    Set s = twoBoxes();
    s.meshes[0] = mesh::prism({{{-80, -50}, {80, -50}, {80, 50}, {-80, 50}}}, 80);
    s.meshes[0] = mesh::transformed(s.meshes[0], mesh::Transform::translation({0, 0, -80}));
    mesh::Mesh wall = mesh::box({-80, 30, 0}, {80, 50, 100});
    s.meshes[0] = mesh::joined(s.meshes[0], wall);
    s.meshes[1] = mesh::prism({{{-20, -20}, {70, -20}, {70, 20}, {20, 20}, {20, 25}, {-20, 25}}}, 60);
    const Joint screw = s.made(0, Kind::Screw, {0, 0, 0});
    const auto obstacle = turnObstacle(s.input(), screw);
    REQUIRE(obstacle);
    has(*obstacle, "piece 2 hits piece 1 after");
    has(*obstacle, "reaches 73 mm from the axis"); // hypot(70, 20)
    has(*obstacle, "draw bolt");
    // The wall stands 30 mm from the axis, the arm's near corner hypot(70, 20) = 72.8 mm: it meets the wall once
    // asin(30 / 72.8) less atan2(20, 70) is turned, 8.4 degrees; turning off goes counter-clockwise from above.
    const auto degrees = obstacle->find("after ");
    CHECK(std::stod(obstacle->substr(degrees + 6)) == Approx(8.4).margin(0.6));
    Set straight = s;
    straight.joint(0, Kind::Dowel, {0, 0, 0});
    CHECK(straight.order().complete());
    s.meshes[0] = twoBoxes().meshes[0];
    CHECK_FALSE(turnObstacle(s.input(), screw));
}

TEST_CASE("assembly: a screw that someone wants beside another joint is refused by its name")
{
    Set s = twoBoxes();
    s.joint(0, Kind::Key, {30, 0, 0});
    const auto obstacle = turnObstacle(s.input(), s.made(0, Kind::Screw, {0, 0, 0}));
    REQUIRE(obstacle);
    has(*obstacle, "key on seam A between 2 and 1 stands 30.0 mm off the axis");
}

TEST_CASE("assembly: a long piece with another across its way is refused, and both are named")
{
    Set s = twoBoxes();
    s.meshes[1] = mesh::box({-10, -10, 0}, {10, 10, 60});
    s.meshes.push_back(mesh::box({-50, -50, 100}, {50, 50, 120}));
    // The third belongs to the lower side's body by a post: it is the same finished body.
    s.meshes[0] = mesh::joined(mesh::joined(s.meshes[0], mesh::box({40, 40, 0.5}, {50, 50, 99.5})), s.meshes[2]);
    s.meshes.pop_back();
    s.joint(0, Kind::Dowel, {0, 0, 0});
    const AssemblyPlan none = s.order();
    REQUIRE(none.problems.size() == 1);
    has(none.problems[0].text, "piece 2 hits piece 1 after 40.0 mm along (0, 0, 1)");
}

TEST_CASE("assembly: a dovetail leaves along its way only")
{
    // Carrier above: undercut tongue along x, open towards +x; measured on the meshes as well.
    Set s = twoBoxes();
    const mesh::Transform along = mesh::Transform::fromColumns({0, 1, 0}, {0, 0, 1}, {1, 0, 0});
    const auto slid = [&](const mesh::Region& outline, double from, double to) {
        return mesh::transformed(mesh::transformed(mesh::prism(outline, to - from), along),
                                 mesh::Transform::translation({from, 0, 0}));
    };
    s.meshes[1] = slid({{{-50, 0}, {-10, 0}, {-16, -20}, {16, -20}, {10, 0}, {50, 0}, {50, 60}, {-50, 60}}}, -50, 50);
    s.meshes[0] = slid(
        {{{-50, -80}, {50, -80}, {50, 0}, {10.3, 0}, {16.3, -20.3}, {-16.3, -20.3}, {-10.3, 0}, {-50, 0}}}, -50, 50);
    s.joint(0, Kind::Dovetail, {0, 0, 0});
    Joint& joint = s.joints[0];
    joint.carrierAbove = true;
    const mesh::PlaneFrame frame = mesh::frameOf(s.plan.nodes[0].plane);
    joint.angle = std::atan2(frame.v.x, frame.u.x);
    joint.lengthMm = 50;
    const AssemblyPlan order = s.order();
    REQUIRE(order.complete());
    CHECK(mesh::length(order.steps[0].motion.direction - Vec3{-1, 0, 0}) < 1e-9);
    has(order.steps[0].words, "Slide 2 onto 1");
    const StepMeasure measure = measureStep(s.input(), order.steps[0]);
    CHECK(measure.swept);
    // Without the joint's word the meshes alone say that it can't be lifted off.
    Set plain = s;
    plain.joints.clear();
    plain.joint(0, Kind::Dowel, {0, 0, 0});
    CHECK_FALSE(plain.order().complete());
    joint.carrierAbove = false; // would have to leave towards -x: free as well in these meshes
    CHECK(s.order().steps.at(0).motion.direction.x == Approx(1));
}

TEST_CASE("assembly: real threads turn off and can't be pulled")
{
    Set s = twoBoxes();
    const test::ScrewedBoxes made = test::screwedBoxes("Printable 40x6", 48, 0.3, 0.05);
    s.meshes = {made.below, made.above};
    s.joint(0, Kind::Screw, made.at);
    s.joints[0].depthMm = 48;
    const AssemblyPlan order = s.order();
    REQUIRE(order.complete());
    const StepMeasure measure = measureStep(s.input(), order.steps[0]);
    CHECK(measure.swept);
    CHECK(measure.gapMm > 0.15);
    CHECK(measure.gapMm <= 0.35);
    s.joints[0] = s.made(0, Kind::Dowel, made.at);
    const AssemblyPlan pulled = s.order();
    REQUIRE(pulled.problems.size() == 1);
    has(pulled.problems[0].text, "piece 2 hits piece 1 after 0.");
}

TEST_CASE("assembly: two hundred pieces with dowels; nothing is swept")
{
    constexpr int side = 6;
    Set s;
    std::vector<std::array<int, 3>> cells;
    // Cuts along x, then y, then z: each node takes one layer off what is below it.
    const std::function<int(std::array<int, 3>, std::array<int, 3>, Path)> cut =
        [&](std::array<int, 3> low, std::array<int, 3> high, Path path) {
            for (std::size_t axis = 0; axis < 3; ++axis)
                if (high[axis] - low[axis] > 1) {
                    const auto node = static_cast<int>(s.plan.nodes.size());
                    const Vec3 normal{axis == 0 ? 1.0 : 0.0, axis == 1 ? 1.0 : 0.0, axis == 2 ? 1.0 : 0.0};
                    const int middle = (low[axis] + high[axis]) / 2;
                    s.plan.nodes.push_back({{normal, 10.0 * middle}, -1, -1});
                    auto top = high, bottom = low;
                    top[axis] = bottom[axis] = middle;
                    Path under = path, over = path;
                    under.push_back({node, false});
                    over.push_back({node, true});
                    const int below = cut(low, top, under), above = cut(bottom, high, over);
                    s.plan.nodes[static_cast<std::size_t>(node)].below = below;
                    s.plan.nodes[static_cast<std::size_t>(node)].above = above;
                    return node;
                }
            s.meshes.push_back(mesh::box(10.0 * Vec3{double(low[0]), double(low[1]), double(low[2])},
                                         10.0 * Vec3{double(high[0]), double(high[1]), double(high[2])}));
            s.paths.push_back(path);
            cells.push_back(low);
            return -1;
        };
    cut({0, 0, 0}, {side, side, side}, {});
    for (std::size_t i = 0; i < cells.size(); ++i)
        for (std::size_t k = 0; k < cells.size(); ++k)
            for (std::size_t axis = 0; axis < 3; ++axis) {
                auto next = cells[i];
                ++next[axis];
                if (next != cells[k])
                    continue;
                std::size_t depth = 0;
                while (s.paths[i][depth] == s.paths[k][depth])
                    ++depth;
                s.seam(s.paths[i][depth].node, static_cast<int>(i) + 1, static_cast<int>(k) + 1);
                Vec3 at = 10.0 * Vec3{double(next[0]), double(next[1]), double(next[2])};
                s.joint(s.seams.size() - 1, Kind::Dowel, at + Vec3{5, 5, 5});
            }
    REQUIRE(s.meshes.size() == side * side * side);
    const AssemblyPlan order = s.order();
    REQUIRE(order.complete());
    CHECK(order.steps.size() == s.meshes.size() - 1);
    CHECK(order.blocking.empty());
}

TEST_CASE("assembly: an order that is no order is told apart from one that is")
{
    const auto step = [](std::vector<int> moving, std::vector<int> onto) {
        return AssemblyStep{std::move(moving), std::move(onto), {}, {}, {}};
    };
    AssemblyPlan plan;
    plan.steps = {step({2}, {1}), step({4}, {3}), step({3, 4}, {1, 2})};
    CHECK(gapsIn(plan, 4).empty());
    CHECK(gapsIn(plan, 5).size() == 1); // 5 never comes
    plan.steps = {step({2}, {1}), step({3, 4}, {1, 2})};
    CHECK(gapsIn(plan, 4).empty()); // 3 and 4 are islands that come as one
    plan.steps = {step({2}, {1}), step({2}, {3})};
    CHECK(gapsIn(plan, 3).size() == 1); // 2 is fixed to 1 by then
    plan.steps = {step({2}, {1, 2})};
    CHECK(gapsIn(plan, 2).size() == 1);
    plan.steps = {step({3}, {1, 2})};
    plan.problems = {{{1, 2}, "nothing takes these apart"}};
    CHECK(gapsIn(plan, 3).empty()); // told of already
}

TEST_CASE("assembly: an order comes back from its file, and nonsense is refused with its place")
{
    Set s = threeBoxes();
    s.seam(0, 2, 3);
    s.joint(0, Kind::Screw, {0, 0, 0});
    const AssemblyPlan order = s.order();
    const nlohmann::json document = nlohmann::json::parse(toJson(order).dump());
    CHECK(assemblyPlanFrom(JsonPlace(document), 3, 1) == order);
    const auto wrong = [&](const nlohmann::json::json_pointer& at, const nlohmann::json& value) {
        nlohmann::json changed = document;
        changed[at] = value;
        try {
            (void)assemblyPlanFrom(JsonPlace(changed), 3, 1);
        } catch (const JsonPlace::Wrong& e) {
            return e.place;
        }
        return std::string();
    };
    using Pointer = nlohmann::json::json_pointer;
    CHECK(wrong(Pointer("/steps/0/moving/0"), 4) == "/steps/0/moving/0");
    CHECK(wrong(Pointer("/steps/0/motion/lead_mm"), 0) == "/steps/0/motion/lead_mm");
    CHECK(wrong(Pointer("/steps/0/motion/direction"), {0, 0, 2}).starts_with("/steps/0/motion/direction"));
    CHECK(wrong(Pointer("/steps/0/joints/0"), 1) == "/steps/0/joints/0");
}
