// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/export.h"
#include "core/face_choice.h"
#include "core/joint_layout.h"
#include "core/joint_rules.h"
#include "core/jointed_pieces.h"
#include "mesh/mass.h"
#include "mesh/primitives.h"
#include "mesh/topology.h"
#include "tests/support/scratch.h"

#include <catch2/catch.hpp>

using namespace quoin;
using namespace quoin::core;
using mesh::Vec3;
using How = FaceChoice::How;

namespace {

/// A part cut and posed, ready for its joints.
Project cutProject(const mesh::Mesh& part, const std::vector<mesh::Plane>& planes)
{
    Project p;
    p.part.name = "block";
    p.part.sourceFile = "block.stl";
    p.part.mesh = std::make_shared<const mesh::Mesh>(part);
    p.beds = {{"bed", Bed::Shape::Rectangular, 400, 400, 400, 1}};
    p.plan = planByCutting(part, planes).value();
    p.pieces = piecesOf(cutByPlan(part, p.plan).value());
    for (Piece& piece : p.pieces)
        piece.pose = fitOnBeds(piece.mesh, p.beds, {p.marginMm, false}).value();
    p.seams = seamsOf(p.pieces, p.plan);
    return p;
}

/// 200 x 80 x 60, cut across the middle: the face is 80 x 60 about (40, 30) in y and z.
Project boxInTwo()
{
    return cutProject(mesh::box({0, 0, 0}, {200, 80, 60}), {mesh::planeAt({1, 0, 0}, 100)});
}

/// The place on a seam's plane over a point in space.
mesh::Vec2 over(const Project& p, std::size_t seam, Vec3 point)
{
    return mesh::frameOf(p.plan.nodes[static_cast<std::size_t>(p.seams[seam].cut)].plane).flat(point);
}

FaceChoice byHand(std::vector<JointForm> dowels)
{
    FaceChoice choice;
    choice.how = How::ByHand;
    choice.joints = std::move(dowels);
    return choice;
}

JointLayout layoutOf(const Project& p, const SeamChoices& choices)
{
    auto layout = layOutJoints(p.pieces, p.seams, p.plan, p.jointOptions, choices);
    REQUIRE(layout.ok());
    return std::move(*layout);
}

bool says(const std::string& text, const std::string& words)
{
    INFO(text);
    return text.find(words) != std::string::npos;
}

void requireSame(const JointLayout& a, const JointLayout& b)
{
    REQUIRE(a.joints.size() == b.joints.size());
    for (std::size_t i = 0; i < a.joints.size(); ++i) {
        CHECK(a.joints[i].seam == b.joints[i].seam);
        CHECK(a.joints[i].at == b.joints[i].at);
        CHECK(a.joints[i].diameterMm == b.joints[i].diameterMm);
        CHECK(a.joints[i].depthMm == b.joints[i].depthMm);
        CHECK(a.joints[i].clearanceMm == b.joints[i].clearanceMm);
        CHECK(a.joints[i].keyed == b.joints[i].keyed);
    }
    REQUIRE(a.marks.size() == b.marks.size());
    for (std::size_t i = 0; i < a.marks.size(); ++i)
        CHECK(a.marks[i].at == b.marks[i].at);
    for (std::size_t i = 0; i < a.reports.size(); ++i)
        CHECK(a.reports[i].text == b.reports[i].text);
}

} // namespace

TEST_CASE("joint choices: Automatic without wishes is what is chosen without any")
{
    const Project p =
        cutProject(mesh::icosphere(60, 4), {{{0, 0, 1}, 3}, {mesh::normalized(mesh::Vec3{1, 0.2, 0.1}), -4}});
    SeamChoices automatic{{}, "PLA"};
    for (std::size_t s = 0; s < p.seams.size(); ++s)
        automatic.bySeam[s] = {};
    const JointLayout plain = layoutOf(p, SeamChoices{{}, "PLA"});
    CHECK(plain.joints.size() >= 4);
    CHECK(plain.faults.empty());
    requireSame(plain, layoutOf(p, automatic));
}

TEST_CASE("joint choices: a largest size, a fit and a plain face are kept")
{
    const Project p = boxInTwo();
    SeamChoices choices{{}, "PETG"};
    choices.bySeam[0].diameterMm = 7;
    choices.bySeam[0].fit = Fit::Free;
    const JointLayout layout = layoutOf(p, choices);
    REQUIRE(layout.joints.size() == 2);
    CHECK(layout.joints[0].diameterMm == 6);     // the largest of the series not above 7
    CHECK(layout.joints[0].clearanceMm == 0.40); // free in PETG (core/material.cpp: common practice, no source)
    choices.bySeam[0].diameterMm = 3;
    const JointLayout none = layoutOf(p, choices);
    CHECK(none.joints.empty());
    CHECK(none.reports[0].butt);
    CHECK(says(none.reports[0].text, "at most 3 mm"));
    choices.bySeam[0].how = How::Plain;
    const JointLayout glued = layoutOf(p, choices);
    CHECK(glued.joints.empty());
    CHECK(glued.marks.size() == 1);
    CHECK(glued.reports[0].butt);
    CHECK(says(glued.reports[0].text, "as chosen"));
}

TEST_CASE("joint choices: dowels by hand go where they are wanted, with no fault where the rules are kept")
{
    const Project p = boxInTwo();
    const JointForm one = dowelForm(over(p, 0, {100, 20, 20}), 8, 12);
    const JointForm two = dowelForm(over(p, 0, {100, 61.5, 37.25}), 7.3, 20, true, 0.4);
    SeamChoices choices{{{0, byHand({one, two})}}, "PLA"};
    const JointLayout layout = layoutOf(p, choices);
    REQUIRE(layout.joints.size() == 2);
    CHECK(layout.joints[0].at == one.at);
    CHECK(layout.joints[1].at == two.at);
    CHECK(layout.joints[1].diameterMm == 7.3);
    CHECK(layout.joints[1].depthMm == 20);
    CHECK(layout.joints[1].keyed);
    CHECK(layout.joints[1].angle == 0.4);
    CHECK(layout.joints[1].clearanceMm == p.jointOptions.clearances.dowelMm);
    CHECK(layout.faults.empty());
    CHECK_FALSE(layout.reports[0].butt);
    CHECK(says(layout.reports[0].text, "by hand"));
    choices.bySeam[0] = byHand({one});
    CHECK(says(layoutOf(p, choices).reports[0].text, "can turn about it"));
    choices.bySeam[0] = byHand({});
    CHECK(layoutOf(p, choices).reports[0].butt);
}

TEST_CASE("joint choices: a broken rule is said with its numbers and what would help")
{
    const Project p = boxInTwo();
    // 8 mm needs 4 + 0.25 + 0.15 + 2.4 = 6.8 mm; 5 mm from the side there are 1.8 mm too little.
    const JointForm near = dowelForm(over(p, 0, {100, 5, 30}), 8, 12);
    const JointForm good = dowelForm(over(p, 0, {100, 40, 30}), 8, 12);
    // 9 mm between the axes is 9 - 2 * 4.4 = 0.2 mm of wall: 2.2 mm too close.
    const JointForm close = dowelForm(over(p, 0, {100, 49, 30}), 8, 12);
    const JointLayout layout = layoutOf(p, {{{0, byHand({near, good, close})}}, "PLA"});
    REQUIRE(layout.faults.size() == 3);
    CHECK(layout.faults[0].joint == 0);
    CHECK(says(layout.faults[0].text, "needs 6.8 mm"));
    CHECK(says(layout.faults[0].text, "1.80 mm too little"));
    CHECK(says(layout.faults[0].text, "one of 4 mm has room here")); // needs 4.8
    CHECK_FALSE(layout.faults[0].impossible);
    CHECK(says(layout.faults[1].text, "2.2 mm too close to dowel A3"));
    CHECK(says(layout.faults[2].text, "2.2 mm too close to dowel A2"));
    CHECK(says(layout.reports[0].text, "dowel A1 breaks a rule"));
}

TEST_CASE("joint choices: what can't be made is said and refused by name")
{
    const Project p = boxInTwo();
    const auto faultOf = [&](JointForm d) {
        const JointLayout layout = layoutOf(p, {{{0, byHand({d})}}, "PLA"});
        REQUIRE(layout.faults.size() == 1);
        CHECK(layout.faults[0].impossible);
        const auto jointed = jointedPieces(p.pieces, p.seams, p.plan, layout);
        REQUIRE_FALSE(jointed.ok());
        CHECK(jointed.problem().reason == Reason::JointFailed);
        CHECK(says(jointed.problem().what, "A1"));
        return layout.faults[0].text;
    };
    CHECK(says(faultOf(dowelForm(over(p, 0, {100, 2, 30}), 8, 12)), "leaves the face"));
    CHECK(says(faultOf(dowelForm(over(p, 0, {100, -30, 30}), 8, 12)), "30.0 mm off the face"));
    for (const auto& [diameter, depth] : std::vector<std::pair<double, double>>{
             {0.0, 12.0}, {-8.0, 12.0}, {std::nan(""), 12.0}, {8.0, 0.0}, {8.0, 1.5}, {8.0, 1e9}, {1e9, 1e9}}) {
        const auto layout =
            layOutJoints(p.pieces, p.seams, p.plan, p.jointOptions,
                         {{{0, byHand({dowelForm(over(p, 0, {100, 40, 30}), diameter, depth)})}}, "PLA"});
        REQUIRE_FALSE(layout.ok());
        CHECK(layout.problem().reason == Reason::BadArgument);
        CHECK(says(layout.problem().what, "A1"));
    }
}

TEST_CASE("joint choices: what is chosen elsewhere keeps clear of dowels by hand")
{
    const Project p =
        cutProject(mesh::box({0, 0, 0}, {120, 120, 60}), {mesh::planeAt({1, 0, 0}, 60), mesh::planeAt({0, 1, 0}, 60)});
    const JointLayout before = layoutOf(p, {});
    // A deep dowel on the last face that stands across the first one's chosen dowels.
    std::size_t last = p.seams.size() - 1;
    const Joint& chosen = before.joints.front();
    const mesh::PlaneFrame first =
        mesh::frameOf(p.plan.nodes[static_cast<std::size_t>(p.seams[chosen.seam].cut)].plane);
    const Seam& seam = p.seams[last];
    REQUIRE(seam.cut != p.seams[chosen.seam].cut);
    const bool shares =
        seam.pieceBelow == p.seams[chosen.seam].pieceBelow || seam.pieceBelow == p.seams[chosen.seam].pieceAbove ||
        seam.pieceAbove == p.seams[chosen.seam].pieceBelow || seam.pieceAbove == p.seams[chosen.seam].pieceAbove;
    REQUIRE(shares);
    const double inward =
        mesh::bounds(p.pieces[static_cast<std::size_t>(seam.pieceBelow) - 1].mesh).max.x > 61 ? 5 : -5;
    const JointForm across = dowelForm(over(p, last, first.space(chosen.at) + Vec3{inward, 0, 0}), 8, 50);
    const JointLayout after = layoutOf(p, {{{last, byHand({across})}}, "PLA"});
    for (std::size_t i = 0; i < after.joints.size(); ++i) {
        INFO(i);
        const Joint& j = after.joints[i];
        if (j.seam == last) {
            CHECK(j.at == across.at);
            continue;
        }
        for (const Joint& hand : after.joints)
            if (hand.seam == last)
                for (const bool a : {false, true})
                    for (const bool b : {false, true}) {
                        const auto cutOf = [&](const Joint& of) {
                            return p.plan.nodes[static_cast<std::size_t>(p.seams[of.seam].cut)].plane;
                        };
                        const Capsule c = boreCapsule(j, cutOf(j), a), h = boreCapsule(hand, cutOf(hand), b);
                        CHECK(segmentDistance(c.from, c.to, h.from, h.to) >=
                              c.radiusMm + h.radiusMm + p.jointOptions.wallMm - 1e-9);
                    }
    }
    // They were in each other's way: the choice has moved.
    CHECK_FALSE(after.joints.front().at == chosen.at);
    for (const JointFault& f : after.faults)
        CHECK(after.joints[f.joint].seam == last);
}

TEST_CASE("joint choices: a choice finds its face by the cut and the place, and sleeps without it")
{
    // Two bars side by side make two islands on one cut.
    const Project p =
        cutProject(mesh::joined(mesh::box({0, 0, 0}, {100, 20, 20}), mesh::box({0, 60, 0}, {100, 80, 20})),
                   {mesh::planeAt({1, 0, 0}, 50)});
    REQUIRE(p.seams.size() == 2);
    const std::vector<int> cutOfNode{7};
    FaceChoice choice;
    choice.cut = 7;
    const auto seamAt = [&](Vec3 point) {
        choice.at = over(p, 0, point);
        return seamOfChoice(p, cutOfNode, choice);
    };
    const auto low = seamAt({50, 10, 10}), high = seamAt({50, 70, 10});
    REQUIRE(low.has_value());
    REQUIRE(high.has_value());
    CHECK(*low != *high);
    CHECK(seamAt({50, 21.5, 10}) == low); // just beside it
    CHECK(seamAt({50, 58.5, 10}) == high);
    CHECK_FALSE(seamAt({50, 40, 10}).has_value());
    choice.cut = 8;
    CHECK_FALSE(seamAt({50, 10, 10}).has_value());

    PartDesign part;
    part.material = "ABS";
    FaceChoice beside;
    beside.cut = 7;
    beside.at = over(p, 0, {50, 21, 10});
    beside.how = How::Plain;
    FaceChoice on = beside;
    on.at = over(p, 0, {50, 3, 3});
    on.how = How::ByHand;
    for (const bool turned : {false, true}) {
        part.faces = turned ? std::vector{beside, on} : std::vector{on, beside};
        const SeamChoices choices = seamChoices(p, cutOfNode, part);
        REQUIRE(choices.bySeam.size() == 1);
        CHECK(choices.of(*low)->how == How::ByHand);
        CHECK(choices.material == "ABS");
    }
    const FaceChoice fresh = choiceFor(p, cutOfNode, part, *high);
    CHECK(fresh.cut == 7);
    CHECK(fresh.how == How::Automatic);
    CHECK(mesh::contains(p.seams[*high].region, fresh.at));
    CHECK(mesh::distanceToOutline(p.seams[*high].region, fresh.at) > 9.5); // of 10 that there are
    CHECK(choiceFor(p, cutOfNode, part, *low).how == How::ByHand);
}

TEST_CASE("joint choices: a choice takes the place of the one held for its face, and one without wishes goes")
{
    const Project p = boxInTwo();
    const std::vector<int> cutOfNode{3};
    PartDesign part;
    FaceChoice plain;
    plain.cut = 3;
    plain.at = over(p, 0, {100, 10, 10});
    plain.how = How::Plain;
    part = withFaceChoice(p, cutOfNode, part, plain);
    REQUIRE(part.faces.size() == 1);
    FaceChoice other = plain;
    other.cut = 4; // sleeps
    part = withFaceChoice(p, cutOfNode, part, other);
    CHECK(part.faces.size() == 2);
    FaceChoice hand = byHand({dowelForm(over(p, 0, {100, 40, 30}), 8, 12)});
    hand.cut = 3;
    hand.at = over(p, 0, {100, 70, 50});
    part = withFaceChoice(p, cutOfNode, part, hand);
    REQUIRE(part.faces.size() == 2);
    CHECK(part.faces.back() == hand);
    hand = {};
    hand.cut = 3;
    hand.at = over(p, 0, {100, 40, 30});
    part = withFaceChoice(p, cutOfNode, part, hand);
    REQUIRE(part.faces.size() == 1);
    CHECK(part.faces.front() == other);
}

TEST_CASE("joint choices: one more dowel goes where there is room between the outline and the others")
{
    const mesh::Region square{{{0, 0}, {60, 0}, {60, 60}, {0, 60}}};
    const mesh::Vec2 first = placeForAnother(square, {});
    CHECK(mesh::distanceToOutline(square, first) > 29);
    const mesh::Vec2 second = placeForAnother(square, {dowelForm(first, 8, 12)});
    CHECK(mesh::contains(square, second));
    CHECK(mesh::distanceToOutline(square, second) > 8);
    CHECK(mesh::length(second - first) > 20);
    // A ring: the middle of its box is not on it.
    const mesh::Region ring{{{0, 0}, {60, 0}, {60, 60}, {0, 60}}, {{10, 10}, {10, 50}, {50, 50}, {50, 10}}};
    CHECK(mesh::contains(ring, placeOn(ring)));
    CHECK(mesh::distanceToOutline(ring, placeOn(ring)) > 4);
    CHECK(mesh::contains(ring, placeForAnother(ring, {})));
    // A long strip, half a mm wide.
    const mesh::Region strip{{{0, 0}, {1000, 0}, {1000, 0.5}, {0, 0.5}}};
    CHECK(mesh::contains(strip, placeOn(strip)));
}

TEST_CASE("joint choices: what was chosen can be taken and comes back the same by hand")
{
    const Project p = boxInTwo();
    const JointLayout chosen = layoutOf(p, {});
    const FaceChoice taken = takenByHand({}, chosen, 0);
    CHECK(taken.how == How::ByHand);
    const JointLayout again = layoutOf(p, {{{0, taken}}, "PLA"});
    CHECK(again.faults.empty());
    REQUIRE(again.joints.size() == chosen.joints.size());
    for (std::size_t i = 0; i < again.joints.size(); ++i) {
        CHECK(again.joints[i].at == chosen.joints[i].at);
        CHECK(again.joints[i].diameterMm == chosen.joints[i].diameterMm);
        CHECK(again.joints[i].depthMm == chosen.joints[i].depthMm);
    }
}

TEST_CASE("joint choices: dowels by hand are sunk, exported and proved; a thin wall fails the proof")
{
    Project p = boxInTwo();
    const JointForm snug = dowelForm(over(p, 0, {100, 20, 20}), 7.3, 12, true, 0.7);
    const JointForm deep = dowelForm(over(p, 0, {100, 61.5, 37.25}), 11, 30);
    FaceChoice choice = byHand({snug, deep});
    choice.fit = Fit::Press;
    p.layout = layoutOf(p, {{{0, choice}}, "PLA"});
    CHECK(p.layout.joints[0].clearanceMm == 0.10); // press in PLA
    double sum = sunkVolumeMm3(p.seams, p.plan, p.layout).value();
    const auto jointed = jointedPieces(p.pieces, p.seams, p.plan, p.layout);
    REQUIRE(jointed.ok());
    for (const mesh::Mesh& m : *jointed) {
        CHECK(mesh::topologyOf(m).solid());
        sum += mesh::volume(m);
    }
    CHECK(sum == Approx(200 * 80 * 60).epsilon(1e-9));

    test::ScratchFolder folder;
    const auto exported = exportProject(p, folder.path() / "good", {});
    INFO((exported ? "" : exported.problem().sentence()));
    REQUIRE(exported.ok());
    CHECK(exported->proof.holds());

    const auto exportWith = [&](JointForm d, const std::string& name, bool evenIfProofFails = false) {
        p.layout = layoutOf(p, {{{0, byHand({snug, d})}}, "PLA"});
        REQUIRE(p.layout.faults.size() == 1);
        ExportOptions options;
        options.evenIfProofFails = evenIfProofFails;
        return exportProject(p, folder.path() / name, options);
    };
    const JointForm thin = dowelForm(over(p, 0, {100, 62, 54.5}), 8, 12);
    const auto refused = exportWith(thin, "thin");
    REQUIRE_FALSE(refused.ok());
    CHECK(refused.problem().reason == Reason::ProofFailed);
    CHECK(says(refused.problem().what, "wall left around the bore"));
    const auto forced = exportWith(thin, "forced", true);
    REQUIRE(forced.ok());
    for (const Claim& c : forced->proof.claims)
        CHECK(c.holds == (c.id != "joint.wall" || c.subject.find("A2") == std::string::npos));

    const auto off = exportWith(dowelForm(over(p, 0, {100, 62, 57}), 8, 12), "off");
    REQUIRE_FALSE(off.ok());
    CHECK(off.problem().reason == Reason::JointFailed);
    CHECK(says(off.problem().what, "A2"));
}

TEST_CASE("joint choices: a bore through the skin or into another fails the proof or is refused, and says so")
{
    // Cut by an oblique plane, so that an axis square to the cut comes out of the flat top.
    Project p = cutProject(mesh::box({0, 0, 0}, {200, 80, 60}), {mesh::planeThrough({100, 40, 30}, {1, 0, 1})});
    const JointForm through = dowelForm(over(p, 0, {100, 40, 30}), 8, 60);
    p.layout = layoutOf(p, {{{0, byHand({through})}}, "PLA"});
    REQUIRE(p.layout.faults.size() == 1);
    CHECK(p.layout.faults[0].impossible);
    CHECK(says(p.layout.faults[0].text, "breaks through the surface"));
    CHECK(says(p.layout.faults[0].text, "mm deep")); // a shallower one would do
    test::ScratchFolder folder;
    const auto exported = exportProject(p, folder.path() / "through", {});
    REQUIRE_FALSE(exported.ok());
    INFO(exported.problem().sentence());
    CHECK((exported.problem().reason == Reason::ProofFailed || exported.problem().reason == Reason::JointFailed ||
           exported.problem().reason == Reason::SelfIntersecting));

    Project q = boxInTwo();
    q.layout = layoutOf(
        q, {{{0, byHand({dowelForm(over(q, 0, {100, 40, 30}), 8, 12), dowelForm(over(q, 0, {100, 45, 30}), 8, 12)})}},
            "PLA"});
    REQUIRE(q.layout.faults.size() == 2);
    CHECK(q.layout.faults[0].impossible);
    CHECK(says(q.layout.faults[0].text, "runs into that of dowel A2"));
    const auto met = exportProject(q, folder.path() / "met", {});
    REQUIRE_FALSE(met.ok());
    CHECK(met.problem().reason == Reason::JointFailed);
}
