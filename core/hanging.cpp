// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/hanging.h"

#include "core/hardware.h"
#include "core/joint_dowel.h"
#include "core/joint_shape.h"
#include "core/material.h"
#include "core/material_strength.h"
#include "mesh/distance.h"
#include "mesh/mass.h"

#include <algorithm>
#include <cmath>
#include <deque>
#include <numeric>
#include <set>
#include <stdexcept>

namespace quoin::core {

using mesh::Vec3;

namespace {

Problem bad(std::string what, std::string remedy)
{
    return Problem{Reason::BadArgument, std::move(what), "", "", std::move(remedy)};
}

bool finite(Vec3 v)
{
    return std::isfinite(v.x) && std::isfinite(v.y) && std::isfinite(v.z);
}

bool hasPiece(const StrengthScene& scene, int number)
{
    return std::any_of(scene.pieces.begin(), scene.pieces.end(),
                       [number](const Piece& p) { return p.number == number; });
}

/// Which piece a point belongs to: the one it is in, else the nearest.
std::size_t pieceAt(const StrengthScene& scene, Vec3 at)
{
    std::size_t best = 0;
    double nearest = 1e300;
    for (std::size_t i = 0; i < scene.pieces.size(); ++i) {
        const mesh::SurfaceTree tree(scene.pieces[i].mesh);
        if (tree.inside(at))
            return i;
        const double distance = tree.distance(at);
        if (distance < nearest) {
            nearest = distance;
            best = i;
        }
    }
    return best;
}

/// mm3 times g/cm3 to kg.
constexpr double kgPerMm3PerGPerCm3 = 1e-6;
/// What is bought, g/cm3: unalloyed steel, beech (EN 350 at 12 % moisture, mean), brass CuZn39Pb3; from memory.
constexpr double steelGPerCm3 = 7.85, beechGPerCm3 = 0.71, brassGPerCm3 = 8.47;

} // namespace

StrengthScene::StrengthScene(const std::vector<Piece>& allPieces, const std::vector<Seam>& allSeams,
                             const CutPlan& cutPlan, const std::vector<Joint>& allJoints,
                             const std::string& materialName)
    : pieces(allPieces), seams(allSeams), plan(cutPlan), joints(allJoints), material(materialName)
{
}

StrengthScene::StrengthScene(const Project& project)
    : StrengthScene(project.pieces, project.seams, project.plan, project.layout.joints, project.part.material)
{
}

const Piece* StrengthScene::piece(int number) const
{
    const auto found =
        std::find_if(pieces.begin(), pieces.end(), [number](const Piece& p) { return p.number == number; });
    return found != pieces.end() ? &*found : nullptr;
}

std::vector<PointMass> jointMasses(const Joint& joint, const mesh::Plane& cut, bool above, double printedGPerCm3,
                                   double fillShare)
{
    std::vector<PointMass> masses;
    const auto add = [&](double mm3, double gPerCm3, Vec3 at) {
        masses.push_back({mm3 * gPerCm3 * kgPerMm3PerGPerCm3, at});
    };
    const auto addHalf = [&](const mesh::Mesh& solid, double gPerCm3) {
        const mesh::MassProperties mass = mesh::massProperties(solid);
        add(mass.volume / 2, gPerCm3, mass.centroid);
    };
    const auto side = sideShape(joint, cut, above);
    const auto printed = printedParts(joint, cut);
    const auto bought = boughtInPlace(joint, cut);
    if (!side || !printed || !bought)
        return {};
    for (const JointPart& part : *printed)
        addHalf(part.inPlace, printedGPerCm3 * fillShare);
    const bool wood = joint.kind == Joint::Kind::Dowel && joint.rod == JointForm::Rod::Wood;
    for (const mesh::Mesh& solid : *bought)
        addHalf(solid, wood ? beechGPerCm3 : steelGPerCm3);
    const Vec3 in = (above ? 1.0 : -1.0) * cut.normal, middle = jointMiddle(joint, cut);
    if (joint.kind == Joint::Kind::DrawBolt && joint.hold == JointForm::Hold::Insert && above != joint.carrierAbove)
        if (const auto insert = heatSetInsert(joint.diameterMm))
            add(M_PI / 4 * (std::pow(insert->boreMm, 2) - std::pow(insert->d, 2)) * insert->lengthMm, brassGPerCm3,
                middle + insert->lengthMm / 2 * in);
    // Bores reach inwards, what is grown stands out: either way half the depth off.
    for (const mesh::Recess& recess : side->recesses)
        add(-mesh::volume(recess), printedGPerCm3 * fillShare, middle + joint.depthMm / 2 * in);
    for (const mesh::FacePatch& patch : side->patches) {
        const double added = mesh::volumeAdded(patch, outwardPlane(cut, above));
        add(added, printedGPerCm3 * fillShare, middle + (added > 0 ? -1 : 1) * joint.depthMm / 2 * in);
    }
    return masses;
}

Status checkLoadCase(const StrengthScene& scene, const LoadCase& load)
{
    const auto positive = [](double v) { return std::isfinite(v) && v > 0; };
    if (!positive(load.dynamicFactor))
        return bad("the dynamic factor must be a number above 0", "Use 1 for a weight at rest, 2 for one set down.");
    if (!finite(load.gravity) || !(length(load.gravity) > 0))
        return bad("the direction of gravity has no length", "Use 0,0,-1 for a part that stands as it was drawn.");
    if (!positive(load.fillShare) || load.fillShare > 1)
        return bad("the filled share of the volume must be above 0 and at most 1", "Use 1 for solid pieces.");
    if (!positive(load.safetyLimit))
        return bad("the limit of safety must be a number above 0", "3 is usual near people.");
    if (!std::isfinite(load.glueMpa) || load.glueMpa < 0)
        return bad("the strength of the glue must be 0 MPa or more", "Use 0 for no glue.");
    if (boltClass(load.boltClass, 8).name.empty())
        return bad("\"" + load.boltClass + "\" is not a bolt class that the program knows",
                   "Use 4.6, 5.8, 8.8, 10.9, 12.9 or A2-70.");
    for (const int number : load.held)
        if (!hasPiece(scene, number))
            return bad("there is no piece " + std::to_string(number) + " to hold the part by",
                       "Pieces are numbered 1 to " + std::to_string(scene.pieces.size()) + ".");
    for (const ExtraForce& force : load.extra) {
        if (!finite(force.at) || !finite(force.forceN))
            return bad("an extra force is not made of numbers", "Give three numbers of mm and three of N.");
        if (force.piece != 0 && !hasPiece(scene, force.piece))
            return bad("there is no piece " + std::to_string(force.piece) + " for an extra force",
                       "Pieces are numbered 1 to " + std::to_string(scene.pieces.size()) + ".");
    }
    return Done{};
}

HangingGraph::HangingGraph(const StrengthScene& scene, const LoadCase& load)
{
    const Material* material = findMaterial(scene.material);
    const double density = material != nullptr ? material->densityGPerCm3 : 0;
    const Vec3 down = normalized(load.gravity);
    for (const Piece& piece : scene.pieces) {
        m_numbers.push_back(piece.number);
        const mesh::MassProperties mass = mesh::massProperties(piece.mesh);
        const double kg = mass.volume * density * load.fillShare * kgPerMm3PerGPerCm3;
        m_massKg.push_back(kg);
        m_loads.push_back({{mass.centroid, kg * gravityMPerS2 * load.dynamicFactor * down}});
    }
    if (scene.pieces.empty())
        return;
    addJoints(scene, load, density);
    for (const ExtraForce& force : load.extra)
        m_loads[force.piece != 0 ? indexOf(force.piece) : pieceAt(scene, force.at)].push_back({force.at, force.forceN});
    joinUp(scene);
    fix(scene, load);
}

void HangingGraph::addJoints(const StrengthScene& scene, const LoadCase& load, double densityGPerCm3)
{
    const Vec3 down = normalized(load.gravity);
    for (const Joint& joint : scene.joints) {
        const Seam& seam = scene.seams.at(joint.seam);
        for (const bool above : {false, true}) {
            const std::size_t piece = indexOf(above ? seam.pieceAbove : seam.pieceBelow);
            for (const PointMass& mass : jointMasses(joint, scene.cutOf(seam), above, densityGPerCm3, load.fillShare)) {
                m_massKg[piece] += mass.kg;
                m_loads[piece].push_back({mass.at, mass.kg * gravityMPerS2 * load.dynamicFactor * down});
            }
        }
    }
}

void HangingGraph::joinUp(const StrengthScene& scene)
{
    std::set<std::pair<std::size_t, std::size_t>> pairs;
    for (const Seam& seam : scene.seams)
        pairs.insert(std::minmax(indexOf(seam.pieceBelow), indexOf(seam.pieceAbove)));
    m_next.resize(m_numbers.size());
    for (const auto& [a, b] : pairs) {
        m_next[a].push_back(b);
        m_next[b].push_back(a);
    }
}

std::vector<int> HangingGraph::lowestOrder(const StrengthScene& scene, Vec3 down) const
{
    std::vector<double> foot;
    for (const Piece& piece : scene.pieces) {
        double lowest = -1e300;
        for (const mesh::Triangle& t : piece.mesh.triangles)
            for (const mesh::Index corner : t)
                lowest = std::max(lowest, dot(down, piece.mesh.points[corner]));
        foot.push_back(lowest);
    }
    std::vector<int> order(m_numbers.size());
    std::iota(order.begin(), order.end(), 0);
    std::stable_sort(order.begin(), order.end(), [&](int a, int b) {
        return foot[static_cast<std::size_t>(a)] > foot[static_cast<std::size_t>(b)];
    });
    return order;
}

void HangingGraph::fix(const StrengthScene& scene, const LoadCase& load)
{
    m_steps.assign(m_numbers.size(), -1);
    for (const int number : load.held) {
        if (m_steps[indexOf(number)] == 0)
            continue;
        m_steps[indexOf(number)] = 0;
        m_fixed.push_back(number);
    }
    if (!m_fixed.empty())
        countSteps();
    for (const int i : lowestOrder(scene, normalized(load.gravity))) {
        const std::size_t piece = static_cast<std::size_t>(i);
        if (m_steps[piece] >= 0)
            continue;
        if (!m_fixed.empty())
            m_apart.push_back(m_numbers[piece]);
        m_fixed.push_back(m_numbers[piece]);
        m_steps[piece] = 0;
        countSteps();
    }
}

void HangingGraph::countSteps()
{
    std::deque<std::size_t> open;
    for (std::size_t i = 0; i < m_steps.size(); ++i)
        if (m_steps[i] == 0)
            open.push_back(i);
    while (!open.empty()) {
        const std::size_t at = open.front();
        open.pop_front();
        for (const std::size_t next : m_next[at])
            if (m_steps[next] < 0) {
                m_steps[next] = m_steps[at] + 1;
                open.push_back(next);
            }
    }
}

std::size_t HangingGraph::indexOf(int number) const
{
    const auto found = std::find(m_numbers.begin(), m_numbers.end(), number);
    if (found == m_numbers.end())
        throw std::invalid_argument("HangingGraph: no piece " + std::to_string(number));
    return static_cast<std::size_t>(found - m_numbers.begin());
}

/// A piece and all farther out that it may hold: each a step farther than the one before.
std::vector<std::size_t> HangingGraph::reachedFrom(std::size_t start) const
{
    std::vector<std::size_t> found{start};
    std::vector<bool> seen(m_numbers.size(), false);
    seen[start] = true;
    for (std::size_t k = 0; k < found.size(); ++k)
        for (const std::size_t next : m_next[found[k]])
            if (!seen[next] && m_steps[next] == m_steps[found[k]] + 1) {
                seen[next] = true;
                found.push_back(next);
            }
    std::sort(found.begin(), found.end());
    return found;
}

/// Whether piece b still has a way to a fixed piece when nothing joins it to a.
bool HangingGraph::holdsWithout(std::size_t a, std::size_t b) const
{
    std::vector<std::size_t> open{b};
    std::vector<bool> seen(m_numbers.size(), false);
    seen[b] = true;
    for (std::size_t k = 0; k < open.size(); ++k) {
        if (m_steps[open[k]] == 0)
            return true;
        for (const std::size_t next : m_next[open[k]])
            if (!seen[next] && !(open[k] == b && next == a)) {
                seen[next] = true;
                open.push_back(next);
            }
    }
    return false;
}

double HangingGraph::massOf(const std::vector<std::size_t>& pieces) const
{
    double kg = 0;
    for (const std::size_t i : pieces)
        kg += m_massKg[i];
    return kg;
}

double HangingGraph::massKg(int piece) const
{
    return m_massKg[indexOf(piece)];
}

const std::vector<PointLoad>& HangingGraph::loadsOn(int piece) const
{
    return m_loads[indexOf(piece)];
}

Hanging HangingGraph::between(int a, int b) const
{
    std::size_t inner = indexOf(a), outer = indexOf(b);
    Hanging h;
    h.held = a;
    if (m_steps[inner] == 0 && m_steps[outer] == 0)
        return h;
    if (m_steps[inner] > m_steps[outer] ||
        (m_steps[inner] == m_steps[outer] && massOf(reachedFrom(inner)) > massOf(reachedFrom(outer))))
        std::swap(inner, outer);
    const std::vector<std::size_t> pieces = reachedFrom(outer);
    h.held = m_numbers[inner];
    h.hanging = m_numbers[outer];
    h.inLoop = holdsWithout(inner, outer);
    h.massKg = massOf(pieces);
    for (const std::size_t i : pieces) {
        h.pieces.push_back(m_numbers[i]);
        h.loads.insert(h.loads.end(), m_loads[i].begin(), m_loads[i].end());
    }
    std::sort(h.pieces.begin(), h.pieces.end());
    return h;
}

} // namespace quoin::core
