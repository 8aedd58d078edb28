// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_chooser.h"

#include "core/joint_rules.h"
#include "core/mark.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

namespace quoin::core {

namespace {

/// A dowel asks for about this share of the side of a square face of the same area (common practice, no source).
constexpr double sizeShare = 0.16;
/// Reach into each side in diameters, best first.
constexpr std::array<double, 3> reaches{1.5, 1.25, 1.0};
/// Two dowels closer than this many diameters, middle to middle, locate the faces poorly.
constexpr double leastSpreadDiameters = 2.5;
/// What lies past a feature's wall by this is still seen.
constexpr double reachSpareMm = 2;

std::size_t wantedCount(const Seam& seam)
{
    // Two locate; more on large faces share the load (common practice, no source).
    return seam.areaMm2 > 60000 ? 4 : seam.areaMm2 > 15000 ? 3 : 2;
}

double spreadOf(const std::vector<mesh::Vec2>& places)
{
    double spread = 0;
    for (const mesh::Vec2 a : places)
        for (const mesh::Vec2 b : places)
            spread = std::max(spread, mesh::length(a - b));
    return spread;
}

/// Farthest-point choice: the two places farthest apart, then whatever is farthest from those chosen. Fewer than
/// two when none are far enough apart.
std::vector<mesh::Vec2> farApart(const std::vector<mesh::Vec2>& good, std::size_t count, double diameter)
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

Joint dowelAt(std::size_t seam, mesh::Vec2 at, double diameter, double depth, double clearance, bool keyed)
{
    return {dowelForm(at, diameter, depth, keyed), seam, clearance, boreEndClearanceMm};
}

} // namespace

JointChooser::JointChooser(const std::vector<Piece>& pieces, const std::vector<Seam>& seams, const CutPlan& plan,
                           const JointOptions& options, const SeamChoices& choices)
    : m_pieces(pieces),
      m_seams(seams),
      m_plan(plan),
      m_options(options),
      m_choices(choices),
      m_room(pieces, plan, reachMm())
{
    for (std::size_t i = 0; i < seams.size(); ++i)
        m_out.reports.push_back({i, {}, false, 0});
}

double JointChooser::reachMm() const
{
    const auto of = [&](double diameter, double depth, double clearance) {
        return depth + radiusNeededMm(diameter, clearance, m_options.wallMm) + reachSpareMm;
    };
    const double largest = dowelSeriesMm.back();
    double reach = of(largest, largest * reaches.front(), m_options.clearances.dowelMm);
    for (const auto& [seam, choice] : m_choices.bySeam) {
        const double clearance = m_choices.clearances(seam, m_options).dowelMm;
        reach = std::max(reach, of(largest, largest * reaches.front(), clearance));
        if (choice.how == FaceChoice::How::ByHand)
            for (const JointForm& d : choice.joints)
                reach = std::max(reach, of(d.diameterMm, d.depthMm + boreEndClearanceMm, clearance));
    }
    return reach;
}

JointChooser::Asked JointChooser::askedOf(std::size_t seam) const
{
    const double wanted = sizeShare * std::sqrt(m_seams[seam].areaMm2);
    Asked asked{dowelSeriesMm.front(), m_choices.clearances(seam, m_options).dowelMm, false};
    for (const double d : dowelSeriesMm)
        if (d <= wanted)
            asked.diameterMm = d;
    if (const FaceChoice* choice = m_choices.of(seam); choice != nullptr && choice->diameterMm) {
        asked.keepsToSize = true;
        asked.diameterMm = std::min(asked.diameterMm, *choice->diameterMm);
    }
    return asked;
}

void JointChooser::byHand(std::size_t seam)
{
    const FaceChoice* choice = m_choices.of(seam);
    if (choice == nullptr || choice->how != FaceChoice::How::ByHand)
        return;
    for (const Joint& joint : jointsByHand(seam, *choice, m_choices.clearances(seam, m_options)))
        put(joint);
}

void JointChooser::dowels(std::size_t seamIndex)
{
    const Seam& seam = m_seams[seamIndex];
    SeamReport& report = m_out.reports[seamIndex];
    const FaceChoice* choice = m_choices.of(seamIndex);
    if (choice != nullptr && choice->how == FaceChoice::How::ByHand) {
        sayByHand(seamIndex);
        return;
    }
    report.butt = true;
    if (choice != nullptr && choice->how == FaceChoice::How::Plain) {
        report.text = "plain butt face, glue: as chosen";
        return;
    }
    if (!m_options.wanted) {
        report.text = "no dowels asked for: plain butt face, glue";
        return;
    }
    const Asked asked = askedOf(seamIndex);
    const JointSites found =
        jointSites(seam, m_room,
                   {radiusNeededMm(dowelSeriesMm.front(), asked.clearanceMm, m_options.wallMm),
                    dowelSeriesMm.front() * reaches.back() + boreEndClearanceMm,
                    std::max(asked.diameterMm, dowelSeriesMm.front()) * reaches.front() + boreEndClearanceMm});
    report.roomMm = found.roomMm;
    if (placeSeveral(seamIndex, found.sites, asked) || placeOne(seamIndex, found.sites, asked))
        report.butt = false;
    else
        sayButt(seamIndex, asked);
}

void JointChooser::sayByHand(std::size_t seam)
{
    SeamReport& report = m_out.reports[seam];
    std::vector<mesh::Vec2> places;
    std::map<std::pair<double, double>, int> sizes;
    bool keyed = false;
    for (const Joint& j : m_out.joints)
        if (j.seam == seam) {
            places.push_back(j.at);
            ++sizes[{j.diameterMm, j.depthMm}];
            keyed = keyed || j.keyed;
        }
    if (places.empty()) {
        report.butt = true;
        report.text = "by hand, no dowels: plain butt face, glue";
        return;
    }
    std::string words;
    for (auto size = sizes.rbegin(); size != sizes.rend(); ++size)
        words += fmt::format("{}{} {}dowel{} of {:g} mm, {:g} mm into each side", words.empty() ? "by hand: " : "; ",
                             size->second, keyed && places.size() == 1 ? "keyed " : "", size->second > 1 ? "s" : "",
                             size->first.first, size->first.second);
    if (places.size() > 1)
        words += fmt::format(", {:.0f} mm apart", spreadOf(places));
    else if (!keyed)
        words += " (the pieces can turn about it: key it, or add another)";
    report.text = words;
}

void JointChooser::mark(std::size_t seamIndex)
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

JointLayout JointChooser::take()
{
    std::stable_sort(m_out.joints.begin(), m_out.joints.end(),
                     [](const Joint& a, const Joint& b) { return a.seam < b.seam; });
    const JointScene scene{m_pieces, m_seams, m_plan, m_room, m_options.wallMm};
    for (std::size_t i = 0; i < m_out.joints.size(); ++i) {
        const std::size_t seam = m_out.joints[i].seam;
        const FaceChoice* choice = m_choices.of(seam);
        if (choice == nullptr || choice->how != FaceChoice::How::ByHand)
            continue;
        if (auto fault = jointFault(scene, m_out.joints, i, m_out.marks)) {
            m_out.reports[seam].text +=
                fmt::format("; dowel {} breaks a rule: {}", jointName(m_seams, m_out.joints, i), fault->text);
            m_out.faults.push_back(std::move(*fault));
        }
    }
    return std::move(m_out);
}

const mesh::Plane& JointChooser::cutOf(std::size_t seam) const
{
    return m_plan.nodes[static_cast<std::size_t>(m_seams[seam].cut)].plane;
}

/// Clear of every bore already in either piece.
bool JointChooser::clear(const Joint& joint) const
{
    const Seam& seam = m_seams[joint.seam];
    for (const bool above : {false, true}) {
        const auto taken = m_taken.find(above ? seam.pieceAbove : seam.pieceBelow);
        if (taken == m_taken.end())
            continue;
        const Capsule c = boreCapsule(joint, cutOf(joint.seam), above);
        for (const Capsule& t : taken->second)
            if (segmentDistance(c.from, c.to, t.from, t.to) < c.radiusMm + t.radiusMm + m_options.wallMm)
                return false;
    }
    return true;
}

/// Places where such a joint may go.
std::vector<mesh::Vec2> JointChooser::allowed(const std::vector<JointSite>& sites, Joint joint) const
{
    std::vector<mesh::Vec2> good;
    for (const JointSite& s : sites) {
        joint.at = s.at;
        if (s.freeRadius(joint.depthMm + joint.endClearanceMm) >=
                radiusNeededMm(joint.diameterMm, joint.clearanceMm, m_options.wallMm) &&
            clear(joint))
            good.push_back(s.at);
    }
    return good;
}

bool JointChooser::placeSeveral(std::size_t seamIndex, const std::vector<JointSite>& sites, const Asked& asked)
{
    for (auto d = dowelSeriesMm.rbegin(); d != dowelSeriesMm.rend(); ++d) {
        if (*d > asked.diameterMm)
            continue;
        for (const double reach : reaches) {
            const Joint joint = dowelAt(seamIndex, {0, 0}, *d, reach * *d, asked.clearanceMm, false);
            const auto chosen = farApart(allowed(sites, joint), wantedCount(m_seams[seamIndex]), *d);
            if (chosen.size() < 2)
                continue;
            for (const mesh::Vec2 at : chosen)
                put(dowelAt(seamIndex, at, *d, reach * *d, asked.clearanceMm, false));
            m_out.reports[seamIndex].text = fmt::format("{} dowels of {} mm, {:g} mm into each side, {:.0f} mm apart",
                                                        chosen.size(), *d, reach * *d, spreadOf(chosen));
            return true;
        }
    }
    return false;
}

bool JointChooser::placeOne(std::size_t seamIndex, const std::vector<JointSite>& sites, const Asked& asked)
{
    const Seam& seam = m_seams[seamIndex];
    for (auto d = dowelSeriesMm.rbegin(); d != dowelSeriesMm.rend(); ++d)
        for (const double reach : reaches) {
            if (*d > asked.diameterMm)
                continue;
            const auto good = allowed(sites, dowelAt(seamIndex, {0, 0}, *d, reach * *d, asked.clearanceMm, true));
            if (good.empty())
                continue;
            // The roomiest place.
            const auto roomiest = std::max_element(good.begin(), good.end(), [&](mesh::Vec2 a, mesh::Vec2 b) {
                return mesh::distanceToOutline(seam.region, a) < mesh::distanceToOutline(seam.region, b);
            });
            put(dowelAt(seamIndex, *roomiest, *d, reach * *d, asked.clearanceMm, true));
            m_out.reports[seamIndex].text =
                fmt::format("1 keyed dowel of {} mm, {:g} mm into each side (room for one only; its flat "
                            "keeps the pieces from turning)",
                            *d, reach * *d);
            return true;
        }
    return false;
}

void JointChooser::put(const Joint& joint)
{
    const Seam& seam = m_seams[joint.seam];
    m_out.joints.push_back(joint);
    m_taken[seam.pieceBelow].push_back(boreCapsule(joint, cutOf(joint.seam), false));
    m_taken[seam.pieceAbove].push_back(boreCapsule(joint, cutOf(joint.seam), true));
}

void JointChooser::sayButt(std::size_t seamIndex, const Asked& asked)
{
    const Seam& seam = m_seams[seamIndex];
    SeamReport& report = m_out.reports[seamIndex];
    const double smallest = dowelSeriesMm.front();
    if (asked.diameterMm < smallest) {
        report.text = fmt::format("plain butt face, glue: dowels of at most {:g} mm are wanted, the smallest chosen "
                                  "is {} mm; allow that, or place a thinner one by hand",
                                  asked.diameterMm, smallest);
        return;
    }
    report.text =
        fmt::format("plain butt face, glue: the smallest dowel ({} mm) needs {:.1f} mm around its axis "
                    "(radius, clearance and a {:.1f} mm wall), and the roomiest place of this face of "
                    "{:.0f} mm2 has {:.1f} mm; a thicker wall there, or another place for the cut, would help",
                    smallest, radiusNeededMm(smallest, asked.clearanceMm, m_options.wallMm), m_options.wallMm,
                    seam.areaMm2, std::max(0.0, report.roomMm));
}

} // namespace quoin::core
