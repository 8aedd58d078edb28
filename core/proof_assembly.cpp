// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/proof_evidence.h"
#include "mesh/mass.h"
#include "mesh/tolerance.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

namespace quoin::core {

namespace {

/// Largest angle between the axis of a joint and the way its pieces go together.
constexpr double parallelDegrees = 0.01;

/// Which pieces hang together, as seams are joined.
class Assembled {
public:
    explicit Assembled(std::size_t pieces) : m_up(pieces + 1) { std::iota(m_up.begin(), m_up.end(), 0); }
    int root(int piece)
    {
        while (m_up[static_cast<std::size_t>(piece)] != piece)
            piece = m_up[static_cast<std::size_t>(piece)];
        return piece;
    }
    void join(int a, int b)
    {
        a = root(a);
        b = root(b);
        m_up[static_cast<std::size_t>(std::max(a, b))] = std::min(a, b);
    }
    /// "1+2", or "1+2 and 5 (placed together)" when they don't hang together yet.
    std::string words(const std::vector<int>& pieces)
    {
        std::map<int, std::string> groups;
        for (const int p : pieces) {
            std::string& group = groups[root(p)];
            group += (group.empty() ? "" : "+") + std::to_string(p);
        }
        std::string out;
        for (const auto& [lead, group] : groups)
            out += (out.empty() ? "" : " and ") + group;
        return groups.size() > 1 ? out + " (not joined to each other yet: place them together)" : out;
    }

private:
    std::vector<int> m_up;
};

std::string directionWords(mesh::Vec3 d)
{
    // + 0.0 so that no "-0" is written.
    const auto rounded = [](double x) { return std::round(x * 1000) / 1000 + 0.0; };
    return fmt::format("({:g}, {:g}, {:g})", rounded(d.x), rounded(d.y), rounded(d.z));
}

/// The cuts undone one by one: children before their parent, so each step joins two finished sides.
class Assembly {
public:
    Assembly(const Evidence& evidence, Proof& proof)
        : m_evidence(evidence), m_proof(proof), m_assembled(evidence.project.pieces.size())
    {
    }

    void run()
    {
        if (m_evidence.project.pieces.size() == 1)
            m_proof.assembly.push_back("1. One piece: nothing to put together.");
        if (!m_evidence.project.plan.empty())
            undo(0);
        for (const Piece& piece : m_evidence.project.pieces)
            if (piece.path.empty() && m_evidence.project.pieces.size() > 1)
                m_proof.assembly.push_back(fmt::format("Piece {} was never cut from the others.", piece.number));
    }

private:
    std::vector<int> onSide(int node, bool above) const
    {
        std::vector<int> pieces;
        for (const Piece& piece : m_evidence.project.pieces)
            if (std::find(piece.path.begin(), piece.path.end(), Step{node, above}) != piece.path.end())
                pieces.push_back(piece.number);
        return pieces;
    }

    void undo(int node)
    {
        const CutPlan::Node& cut = m_evidence.project.plan.nodes[static_cast<std::size_t>(node)];
        for (const int child : {cut.below, cut.above})
            if (child >= 0)
                undo(child);
        const std::vector<int> below = onSide(node, false), above = onSide(node, true);
        if (!below.empty() && !above.empty())
            step(node, below, above);
    }

    double volumeOf(const std::vector<int>& pieces) const
    {
        double sum = 0;
        for (const int p : pieces)
            sum += mesh::volume(m_evidence.meshOf(p));
        return sum;
    }

    void step(int node, const std::vector<int>& below, const std::vector<int>& above)
    {
        const int number = ++m_steps;
        const mesh::Vec3 normal = m_evidence.cut(node).normal;
        const bool moveAbove = volumeOf(above) <= volumeOf(below);
        const mesh::Vec3 way = moveAbove ? -normal : normal;
        std::string line =
            fmt::format("{}. Push {} onto {} along {}, ", number, m_assembled.words(moveAbove ? above : below),
                        m_assembled.words(moveAbove ? below : above), directionWords(way));
        line += jointWords(node);
        m_proof.assembly.push_back(line);
        const std::string subject = fmt::format("step {}", number);
        m_proof.claims.push_back(claim("assembly.free", subject,
                                       "the two sides lie apart along the way they move, so nothing is in its way "
                                       "(overlap)",
                                       overlapAlong(node, below, above), "<=", 2 * mesh::tolerance::planeSlackMm,
                                       "mm"));
        m_proof.claims.push_back(claim("assembly.parallel", subject,
                                       "every loose part on it points along the way it moves (largest angle)",
                                       largestAngle(node), "<=", parallelDegrees, "degrees"));
        for (const Seam& seam : m_evidence.project.seams)
            if (seam.cut == node)
                m_assembled.join(seam.pieceBelow, seam.pieceAbove);
    }

    double overlapAlong(int node, const std::vector<int>& below, const std::vector<int>& above) const
    {
        double highest = -1e300, lowest = 1e300;
        for (const int p : below)
            for (const mesh::Vec3 q : m_evidence.meshOf(p).points)
                highest = std::max(highest, m_evidence.cut(node).distance(q));
        for (const int p : above)
            for (const mesh::Vec3 q : m_evidence.meshOf(p).points)
                lowest = std::min(lowest, m_evidence.cut(node).distance(q));
        return highest > -1e300 && lowest < 1e300 ? highest - lowest : 0;
    }

    std::string jointWords(int node) const
    {
        const Project& project = m_evidence.project;
        std::map<std::pair<double, bool>, int> dowels;
        int seams = 0, butt = 0;
        for (std::size_t s = 0; s < project.seams.size(); ++s) {
            if (project.seams[s].cut != node)
                continue;
            ++seams;
            const auto before = dowels.size();
            bool any = false;
            for (const Joint& joint : project.layout.joints)
                if (joint.seam == s) {
                    ++dowels[{joint.diameterMm, joint.keyed}];
                    any = true;
                }
            butt += !any && before == dowels.size();
        }
        if (seams == 0)
            return "they don't touch there: hold them in place until a later step joins them.";
        std::string words;
        for (const auto& [kind, count] : dowels)
            words += fmt::format("{}{} {}dowel{} of {:g} mm", words.empty() ? "" : ", ", count,
                                 kind.second ? "keyed " : "", count == 1 ? "" : "s", kind.first);
        if (butt > 0)
            words += fmt::format("{}{} plain face{} to glue", words.empty() ? "" : ", ", butt, butt == 1 ? "" : "s");
        return words + ".";
    }

    /// Between the cut's normal and the loose parts on it: the long axis of each as placed (x of its print pose, in
    /// which it lies along the plate).
    double largestAngle(int node) const
    {
        const mesh::Plane& cut = m_evidence.cut(node);
        double worst = 0;
        for (const PartFile& part : m_evidence.parts) {
            if (part.kind == "piece" || part.mesh.empty())
                continue;
            const mesh::Vec3 middle = mesh::bounds(part.mesh).centre();
            for (const mesh::Transform& placement : part.placements)
                if (belongsTo(node, placement.point(middle))) {
                    const mesh::Vec3 axis = placement.direction({1, 0, 0});
                    const double sine = mesh::length(mesh::cross(axis, cut.normal));
                    worst = std::max(worst, std::atan2(sine, std::fabs(mesh::dot(axis, cut.normal))) * 180 / M_PI);
                }
        }
        return worst;
    }

    /// Whether the joint nearest to a place is on this cut.
    bool belongsTo(int node, mesh::Vec3 at) const
    {
        const Project& project = m_evidence.project;
        double nearest = 1e300;
        bool here = false;
        for (const Joint& joint : project.layout.joints) {
            const Seam& seam = project.seams[joint.seam];
            const double d = mesh::length(mesh::frameOf(m_evidence.cut(seam.cut)).space(joint.at) - at);
            if (d < nearest) {
                nearest = d;
                here = seam.cut == node;
            }
        }
        return here;
    }

    const Evidence& m_evidence;
    Proof& m_proof;
    Assembled m_assembled;
    int m_steps = 0;
};

} // namespace

void proveAssembly(const Evidence& evidence, Proof& proof)
{
    Assembly(evidence, proof).run();
}

} // namespace quoin::core
