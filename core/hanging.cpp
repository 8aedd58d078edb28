// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/hanging.h"

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

bool hasPiece(const Project& project, int number)
{
    return std::any_of(project.pieces.begin(), project.pieces.end(),
                       [number](const Piece& p) { return p.number == number; });
}

/// Which piece a point belongs to: the one it is in, else the nearest.
std::size_t pieceAt(const Project& project, Vec3 at)
{
    std::size_t best = 0;
    double nearest = 1e300;
    for (std::size_t i = 0; i < project.pieces.size(); ++i) {
        const mesh::SurfaceTree tree(project.pieces[i].mesh);
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

} // namespace

Status checkLoadCase(const Project& project, const LoadCase& load)
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
        if (!hasPiece(project, number))
            return bad("there is no piece " + std::to_string(number) + " to hold the part by",
                       "Pieces are numbered 1 to " + std::to_string(project.pieces.size()) + ".");
    for (const ExtraForce& force : load.extra) {
        if (!finite(force.at) || !finite(force.forceN))
            return bad("an extra force is not made of numbers", "Give three numbers of mm and three of N.");
        if (force.piece != 0 && !hasPiece(project, force.piece))
            return bad("there is no piece " + std::to_string(force.piece) + " for an extra force",
                       "Pieces are numbered 1 to " + std::to_string(project.pieces.size()) + ".");
    }
    return Done{};
}

HangingGraph::HangingGraph(const Project& project, const LoadCase& load)
{
    const Material* material = findMaterial(project.part.material);
    const double density = material != nullptr ? material->densityGPerCm3 : 0;
    const Vec3 down = normalized(load.gravity);
    for (const Piece& piece : project.pieces) {
        m_numbers.push_back(piece.number);
        const mesh::MassProperties mass = mesh::massProperties(piece.mesh);
        const double kg = mass.volume * density * load.fillShare * kgPerMm3PerGPerCm3;
        m_massKg.push_back(kg);
        m_loads.push_back({{mass.centroid, kg * gravityMPerS2 * load.dynamicFactor * down}});
    }
    if (project.pieces.empty())
        return;
    for (const ExtraForce& force : load.extra)
        m_loads[force.piece != 0 ? indexOf(force.piece) : pieceAt(project, force.at)].push_back(
            {force.at, force.forceN});
    joinUp(project);
    fix(project, load);
}

void HangingGraph::joinUp(const Project& project)
{
    std::set<std::pair<std::size_t, std::size_t>> pairs;
    for (const Seam& seam : project.seams)
        pairs.insert(std::minmax(indexOf(seam.pieceBelow), indexOf(seam.pieceAbove)));
    m_next.resize(m_numbers.size());
    for (const auto& [a, b] : pairs) {
        m_next[a].push_back(b);
        m_next[b].push_back(a);
    }
}

std::vector<int> HangingGraph::lowestOrder(const Project& project, Vec3 down) const
{
    std::vector<double> foot;
    for (const Piece& piece : project.pieces) {
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

void HangingGraph::fix(const Project& project, const LoadCase& load)
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
    for (const int i : lowestOrder(project, normalized(load.gravity))) {
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
