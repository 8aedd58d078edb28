// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_layout.h"

#include "core/joint_dowel.h"
#include "core/joint_room.h"
#include "core/joint_sites.h"
#include "core/mark.h"
#include "mesh/region.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

namespace quoin::core {

namespace {

// Dowel diameters in mm: usual sizes of pins and rods, large enough to print well (common practice, no source).
constexpr std::array<double, 10> seriesMm{4, 5, 6, 8, 10, 12, 16, 20, 25, 30};
/// A dowel asks for about this share of the side of a square face of the same area (common practice, no source).
constexpr double sizeShare = 0.16;
/// Reach into each side in diameters, best first.
constexpr std::array<double, 3> reaches{1.5, 1.25, 1.0};
constexpr double endClearanceMm = 0.5;
/// Two dowels closer than this many diameters, middle to middle, locate the faces poorly.
constexpr double leastSpreadDiameters = 2.5;
/// Corners of the bore's polygon and the chamfer of its mouth stand out past its radius by at most this.
constexpr double mouthMm = 0.15;

double boreRadius(double diameter, const JointOptions& o)
{
    return diameter / 2 + o.clearanceMm;
}
double radiusNeeded(double diameter, const JointOptions& o)
{
    return boreRadius(diameter, o) + mouthMm + o.wallMm;
}

/// Lays out one project's joints, seam by seam, keeping what is taken in each piece.
class Layout {
public:
    Layout(const std::vector<Piece>& pieces, const std::vector<Seam>& seams, const CutPlan& plan,
           const JointOptions& options)
        : m_seams(seams),
          m_plan(plan),
          m_options(options),
          m_room(pieces, plan, seriesMm.back() * reaches.front() + radiusNeeded(seriesMm.back(), options) + 2)
    {
    }

    void dowels(std::size_t seamIndex)
    {
        const Seam& seam = m_seams[seamIndex];
        SeamReport report{seamIndex, {}, false, 0};
        if (!m_options.dowels) {
            report.text = "no dowels asked for: plain butt face, glue";
            report.butt = true;
        } else {
            const double asked = askedDiameter(seam);
            const JointSites found = jointSites(seam, m_room,
                                                {radiusNeeded(seriesMm.front(), m_options),
                                                 seriesMm.front() * reaches.back() + endClearanceMm,
                                                 asked * reaches.front() + endClearanceMm});
            report.roomMm = found.roomMm;
            const std::vector<JointSite>& sites = found.sites;
            if (!placeSeveral(seamIndex, sites, asked, report) && !placeOne(seamIndex, sites, asked, report))
                sayButt(seam, report);
        }
        m_out.reports.push_back(std::move(report));
    }

    void mark(std::size_t seamIndex)
    {
        const Seam& seam = m_seams[seamIndex];
        std::vector<Capsule> taken = m_taken[seam.pieceBelow];
        const std::vector<Capsule>& other = m_taken[seam.pieceAbove];
        taken.insert(taken.end(), other.begin(), other.end());
        if (auto mark = placeMark(seamIndex, seam, m_plan, m_room, taken))
            m_out.marks.push_back(std::move(*mark));
        else
            m_out.reports[seamIndex].text += "; no room for a number or a mark: label these faces by hand";
    }

    JointLayout take() { return std::move(m_out); }

private:
    double askedDiameter(const Seam& seam) const
    {
        const double wanted = sizeShare * std::sqrt(seam.areaMm2);
        double asked = seriesMm.front();
        for (const double d : seriesMm)
            if (d <= wanted)
                asked = d;
        return asked;
    }

    mesh::PlaneFrame frameAt(const Seam& seam) const
    {
        return mesh::frameOf(m_plan.nodes[static_cast<std::size_t>(seam.cut)].plane);
    }

    Capsule capsuleOf(const Seam& seam, mesh::Vec2 at, double diameter, double depth, bool above) const
    {
        const mesh::PlaneFrame frame = frameAt(seam);
        const double end = (above ? 1 : -1) * (depth + endClearanceMm);
        return {frame.space(at), frame.space(at, end), boreRadius(diameter, m_options) + mouthMm};
    }

    /// Clear of every bore already in either piece.
    bool clear(const Seam& seam, mesh::Vec2 at, double diameter, double depth) const
    {
        for (const bool above : {false, true}) {
            const auto taken = m_taken.find(above ? seam.pieceAbove : seam.pieceBelow);
            if (taken == m_taken.end())
                continue;
            const Capsule c = capsuleOf(seam, at, diameter, depth, above);
            for (const Capsule& t : taken->second)
                if (segmentDistance(c.from, c.to, t.from, t.to) < c.radiusMm + t.radiusMm + m_options.wallMm)
                    return false;
        }
        return true;
    }

    std::vector<mesh::Vec2> allowed(const Seam& seam, const std::vector<JointSite>& sites, double diameter,
                                    double depth) const
    {
        std::vector<mesh::Vec2> good;
        for (const JointSite& s : sites)
            if (s.freeRadius(depth + endClearanceMm) >= radiusNeeded(diameter, m_options) &&
                clear(seam, s.at, diameter, depth))
                good.push_back(s.at);
        return good;
    }

    static std::size_t wantedCount(const Seam& seam)
    {
        // Two locate; more on large faces share the load (common practice, no source).
        return seam.areaMm2 > 60000 ? 4 : seam.areaMm2 > 15000 ? 3 : 2;
    }

    bool placeSeveral(std::size_t seamIndex, const std::vector<JointSite>& sites, double asked, SeamReport& report)
    {
        const Seam& seam = m_seams[seamIndex];
        for (auto d = seriesMm.rbegin(); d != seriesMm.rend(); ++d) {
            if (*d > asked)
                continue;
            for (const double reach : reaches) {
                const auto chosen = farApart(allowed(seam, sites, *d, reach * *d), wantedCount(seam), *d);
                if (chosen.size() < 2)
                    continue;
                double spread = 0;
                for (const mesh::Vec2 a : chosen)
                    for (const mesh::Vec2 b : chosen)
                        spread = std::max(spread, mesh::length(a - b));
                for (const mesh::Vec2 at : chosen)
                    put(seamIndex, at, *d, reach * *d, false, 0);
                report.text = fmt::format("{} dowels of {} mm, {:g} mm into each side, {:.0f} mm apart", chosen.size(),
                                          *d, reach * *d, spread);
                return true;
            }
        }
        return false;
    }

    bool placeOne(std::size_t seamIndex, const std::vector<JointSite>& sites, double asked, SeamReport& report)
    {
        const Seam& seam = m_seams[seamIndex];
        for (auto d = seriesMm.rbegin(); d != seriesMm.rend(); ++d)
            for (const double reach : reaches) {
                if (*d > asked)
                    continue;
                const auto good = allowed(seam, sites, *d, reach * *d);
                if (good.empty())
                    continue;
                // The roomiest place.
                const auto roomiest = std::max_element(good.begin(), good.end(), [&](mesh::Vec2 a, mesh::Vec2 b) {
                    return mesh::distanceToOutline(seam.region, a) < mesh::distanceToOutline(seam.region, b);
                });
                put(seamIndex, *roomiest, *d, reach * *d, true, 0);
                report.text = fmt::format("1 keyed dowel of {} mm, {:g} mm into each side (room for one only; its flat "
                                          "keeps the pieces from turning)",
                                          *d, reach * *d);
                return true;
            }
        return false;
    }

    /// Farthest-point choice: the two places farthest apart, then whatever is farthest from those chosen. Fewer than
    /// two when none are far enough apart.
    static std::vector<mesh::Vec2> farApart(const std::vector<mesh::Vec2>& good, std::size_t count, double diameter)
    {
        double best = 0;
        std::vector<mesh::Vec2> chosen;
        for (std::size_t i = 0; i < good.size(); ++i)
            for (std::size_t j = i + 1; j < good.size(); ++j)
                if (const double l = mesh::length(good[i] - good[j]); l > best + 1e-9) {
                    best = l;
                    chosen = {good[i], good[j]};
                }
        if (best < leastSpreadDiameters * diameter)
            return {};
        while (chosen.size() < count) {
            double farthest = 0;
            mesh::Vec2 next{0, 0};
            for (const mesh::Vec2 p : good) {
                double nearest = 1e300;
                for (const mesh::Vec2 c : chosen)
                    nearest = std::min(nearest, mesh::length(p - c));
                if (nearest > farthest + 1e-9) {
                    farthest = nearest;
                    next = p;
                }
            }
            if (farthest < leastSpreadDiameters * diameter)
                break;
            chosen.push_back(next);
        }
        return chosen;
    }

    void put(std::size_t seamIndex, mesh::Vec2 at, double diameter, double depth, bool keyed, double flatAngle)
    {
        const Seam& seam = m_seams[seamIndex];
        m_out.joints.push_back({Joint::Kind::Dowel, seamIndex, at, diameter, depth, m_options.clearanceMm,
                                endClearanceMm, keyed, flatAngle});
        m_taken[seam.pieceBelow].push_back(capsuleOf(seam, at, diameter, depth, false));
        m_taken[seam.pieceAbove].push_back(capsuleOf(seam, at, diameter, depth, true));
    }

    void sayButt(const Seam& seam, SeamReport& report) const
    {
        report.butt = true;
        const double need = radiusNeeded(seriesMm.front(), m_options);
        report.text =
            fmt::format("plain butt face, glue: the smallest dowel ({} mm) needs {:.1f} mm around its axis "
                        "(radius, clearance and a {:.1f} mm wall), and the roomiest place of this face of "
                        "{:.0f} mm2 has {:.1f} mm; a thicker wall there, or another place for the cut, would help",
                        seriesMm.front(), need, m_options.wallMm, seam.areaMm2, std::max(0.0, report.roomMm));
    }

    const std::vector<Seam>& m_seams;
    const CutPlan& m_plan;
    const JointOptions& m_options;
    JointRoom m_room;
    std::map<int, std::vector<Capsule>> m_taken; ///< by piece number
    JointLayout m_out;
};

} // namespace

Result<JointLayout> layOutJoints(const std::vector<Piece>& pieces, const std::vector<Seam>& seams, const CutPlan& plan,
                                 const JointOptions& options, const Context& context)
{
    Layout layout(pieces, seams, plan, options);
    const double steps = 2.0 * static_cast<double>(seams.size());
    for (std::size_t pass = 0; pass < 2; ++pass)
        for (std::size_t i = 0; i < seams.size(); ++i) {
            if (context.cancelled())
                return Problem{Reason::Cancelled, "cancelled while laying out joints", {}, {}, {}};
            context.report(static_cast<double>(pass * seams.size() + i) / steps, "laying out joints");
            // All dowels first: marks take what is left.
            if (pass == 0)
                layout.dowels(i);
            else if (options.marks)
                layout.mark(i);
        }
    return layout.take();
}

Result<std::vector<mesh::Mesh>> jointedPieces(const std::vector<Piece>& pieces, const std::vector<Seam>& seams,
                                              const CutPlan& plan, const JointLayout& layout, const Context& context)
{
    std::vector<mesh::Mesh> out;
    for (const Piece& piece : pieces) {
        if (context.cancelled())
            return Problem{Reason::Cancelled, "cancelled while sinking joints", {}, {}, {}};
        std::map<int, std::vector<mesh::Recess>> byCut;
        std::map<int, bool> aboveAt;
        const auto sideOf = [&](std::size_t s) -> const Seam* {
            const Seam& seam = seams[s];
            if (seam.pieceBelow != piece.number && seam.pieceAbove != piece.number)
                return nullptr;
            aboveAt[seam.cut] = seam.pieceAbove == piece.number;
            return &seam;
        };
        const auto planeAt = [&](const Seam& seam) { return plan.nodes[static_cast<std::size_t>(seam.cut)].plane; };
        for (const Joint& joint : layout.joints)
            if (const Seam* seam = sideOf(joint.seam))
                byCut[seam->cut].push_back(dowelBore(joint, planeAt(*seam), aboveAt[seam->cut]));
        for (const Mark& mark : layout.marks)
            if (const Seam* seam = sideOf(mark.seam))
                for (mesh::Recess& r : markRecesses(mark, planeAt(*seam), aboveAt[seam->cut]))
                    byCut[seam->cut].push_back(std::move(r));
        mesh::Mesh m = piece.mesh;
        for (const auto& [cut, recesses] : byCut) {
            const auto label = static_cast<mesh::Label>(cut) + 1;
            auto sunk = mesh::withRecesses(m, label,
                                           outwardPlane(plan.nodes[static_cast<std::size_t>(cut)].plane, aboveAt[cut]),
                                           recesses, label + featureLabelBase);
            if (!sunk) {
                Problem problem = sunk.problem();
                problem.what = fmt::format("piece {}, cut {}: {}", piece.number, cut + 1, problem.what);
                return problem;
            }
            m = std::move(*sunk);
        }
        out.push_back(std::move(m));
    }
    return out;
}

double sunkVolumeMm3(const std::vector<Seam>& seams, const CutPlan& plan, const JointLayout& layout)
{
    double sum = 0;
    const auto planeOf = [&](std::size_t seam) { return plan.nodes[static_cast<std::size_t>(seams[seam].cut)].plane; };
    for (const bool above : {false, true}) {
        for (const Joint& joint : layout.joints)
            sum += mesh::volume(dowelBore(joint, planeOf(joint.seam), above));
        for (const Mark& mark : layout.marks)
            for (const mesh::Recess& r : markRecesses(mark, planeOf(mark.seam), above))
                sum += mesh::volume(r);
    }
    return sum;
}

} // namespace quoin::core
