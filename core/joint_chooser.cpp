// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_chooser.h"

#include "core/choose_bolts.h"
#include "core/choose_screw.h"
#include "core/mark.h"
#include "core/section_forces.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>

namespace quoin::core {

namespace {

using Kind = JointForm::Kind;

/// "M8" or "8 mm".
std::string sizeWords(const Joint& joint)
{
    return joint.kind == Kind::DrawBolt
               ? fmt::format("M{:g}, gripping {:g} mm", joint.diameterMm, joint.gripMm)
               : fmt::format("{:g} mm, {:g} mm into {} side", joint.diameterMm, joint.depthMm,
                             joint.kind == Kind::Screw || joint.kind == Kind::Dovetail || joint.integral ? "one"
                                                                                                         : "each");
}

/// Whether one of them alone keeps the pieces from turning.
bool holdsAngle(const Joint& joint)
{
    return joint.keyed || joint.kind == Kind::Key || joint.kind == Kind::Dovetail || joint.kind == Kind::Screw ||
           joint.kind == Kind::Stud;
}

} // namespace

JointChooser::JointChooser(const std::vector<Piece>& pieces, const std::vector<Seam>& seams, const CutPlan& plan,
                           const JointOptions& options, const SeamChoices& choices)
    : m_options(options), m_choices(choices), m_ground(pieces, seams, plan, options, choices)
{
    for (std::size_t i = 0; i < seams.size(); ++i)
        m_out.reports.push_back({i, {}, false, 0});
}

void JointChooser::byHand(std::size_t seam)
{
    const FaceChoice* choice = m_choices.of(seam);
    if (choice == nullptr || choice->how != FaceChoice::How::ByHand)
        return;
    for (const Joint& joint : jointsByHand(seam, *choice, m_choices.clearances(seam, m_options), m_options.chordMm))
        m_ground.put(joint);
}

void JointChooser::choose(std::size_t seam)
{
    SeamReport& report = m_out.reports[seam];
    const FaceChoice* choice = m_choices.of(seam);
    if (choice != nullptr && choice->how == FaceChoice::How::ByHand) {
        sayByHand(seam);
        return;
    }
    report.butt = true;
    if (choice != nullptr && choice->how == FaceChoice::How::Plain) {
        report.text = "plain butt face, glue: as chosen";
        return;
    }
    if (!m_options.wanted) {
        report.text = "no joints asked for: plain butt face, glue";
        return;
    }
    const JointSites found = dowelSites(m_ground, seam);
    report.roomMm = found.roomMm;
    const auto kind = choice != nullptr && choice->kind ? choice->kind : m_options.kind;
    const Chosen chosen = kind ? ofKind(seam, found.sites, *kind) : suited(seam, found.sites);
    for (const Joint& joint : chosen.joints)
        m_ground.put(joint);
    report.butt = chosen.joints.empty();
    report.text = report.butt ? buttWords(seam) : chosen.text;
}

Chosen JointChooser::dowelsOrOne(std::size_t seam, const std::vector<JointSite>& sites) const
{
    if (Chosen wall = wallDowels(m_ground, seam))
        return wall;
    if (Chosen several = severalDowels(m_ground, seam, sites))
        return several;
    return oneDowel(m_ground, seam, sites);
}

/// What suits the face: by its width, its shape, and what can be put together.
Chosen JointChooser::suited(std::size_t seam, const std::vector<JointSite>& sites) const
{
    if (Chosen wall = wallDowels(m_ground, seam))
        return wall;
    const double width = largestCircleMm(m_ground.seam(seam).region);
    if (width < bigFaceMm)
        return dowelsOrOne(seam, sites);
    Chosen screw = centreScrew(m_ground, seam, Kind::Screw, true);
    if (screw)
        return screw;
    screw = centreScrew(m_ground, seam, Kind::Stud);
    if (screw) {
        screw.text += "; loose, since on their beds neither piece has room for it to stand out";
        return screw;
    }
    Chosen bolts = cornerBolts(m_ground, seam, sites);
    if (bolts) {
        bolts.text += fmt::format(": the face is {:.0f} mm across; no screw: {}", width, screw.text);
        return bolts;
    }
    Chosen dowels = dowelsOrOne(seam, sites);
    if (dowels)
        dowels.text += fmt::format(" (the face is {:.0f} mm across; no screw: {}; {})", width, screw.text, bolts.text);
    return dowels;
}

Chosen JointChooser::ofKind(std::size_t seam, const std::vector<JointSite>& sites, Kind kind) const
{
    Chosen chosen;
    switch (kind) {
    case Kind::Dowel:
        return dowelsOrOne(seam, sites);
    case Kind::Screw:
    case Kind::Stud:
        chosen = centreScrew(m_ground, seam, kind);
        break;
    case Kind::Key:
        chosen = oneKey(m_ground, seam, sites, JointForm::Section::D);
        break;
    case Kind::Dovetail:
        chosen = {{}, "a dovetail is placed by hand: only the maker knows which way the piece may slide"};
        break;
    case Kind::DrawBolt:
        chosen = cornerBolts(m_ground, seam, sites);
        break;
    }
    if (chosen)
        return chosen;
    Chosen dowels = dowelsOrOne(seam, sites);
    if (dowels)
        dowels.text += fmt::format(" (a {} was asked for: {})", kindName(kind),
                                   chosen.text.empty() ? "it has no room" : chosen.text);
    return dowels;
}

void JointChooser::sayByHand(std::size_t seam)
{
    SeamReport& report = m_out.reports[seam];
    std::vector<Joint> joints;
    std::map<std::string, std::pair<int, Joint>> alike;
    std::vector<std::string> order;
    for (const Joint& j : m_ground.joints())
        if (j.seam == seam) {
            joints.push_back(j);
            const std::string size = std::string(kindName(j.kind)) + sizeWords(j);
            if (alike.try_emplace(size, 0, j).second)
                order.push_back(size);
            ++alike.at(size).first;
        }
    if (joints.empty()) {
        report.butt = true;
        report.text = "by hand, no joints: plain butt face, glue";
        return;
    }
    std::stable_sort(order.begin(), order.end(), [&](const std::string& a, const std::string& b) {
        return alike.at(a).second.diameterMm > alike.at(b).second.diameterMm;
    });
    std::string words;
    for (const std::string& size : order) {
        const auto& [count, joint] = alike.at(size);
        words += fmt::format("{}{} {}{}{} of {}", words.empty() ? "by hand: " : "; ", count,
                             joint.keyed && joints.size() == 1 ? "keyed " : "", kindName(joint.kind),
                             count > 1 ? "s" : "", sizeWords(joint));
    }
    if (joints.size() > 1)
        words += fmt::format(", {:.0f} mm apart", spreadOf(joints));
    else if (!holdsAngle(joints.front()))
        words += " (the pieces can turn about it: key it, or add another)";
    report.text = words;
}

void JointChooser::mark(std::size_t seam)
{
    if (auto mark = placeMark(seam, m_ground.seam(seam), m_ground.scene().plan, m_ground.scene().room,
                              m_ground.takenAround(seam)))
        m_out.marks.push_back(std::move(*mark));
    else
        m_out.reports[seam].text += "; no room for a number or a mark: label these faces by hand";
}

JointLayout JointChooser::take()
{
    m_out.joints = m_ground.sorted();
    const JointScene& scene = m_ground.scene();
    for (std::size_t i = 0; i < m_out.joints.size(); ++i) {
        const std::size_t seam = m_out.joints[i].seam;
        const FaceChoice* choice = m_choices.of(seam);
        if (choice == nullptr || choice->how != FaceChoice::How::ByHand)
            continue;
        if (auto fault = jointFault(scene, m_out.joints, i, m_out.marks)) {
            m_out.reports[seam].text += fmt::format("; {} {} breaks a rule: {}", kindName(m_out.joints[i].kind),
                                                    jointName(scene.seams, m_out.joints, i), fault->text);
            m_out.faults.push_back(std::move(*fault));
        }
    }
    return std::move(m_out);
}

std::string JointChooser::buttWords(std::size_t seam) const
{
    const double smallest = dowelSeriesMm.front();
    const double wanted = dowelWantedMm(m_ground, seam);
    if (wanted < smallest)
        return fmt::format("plain butt face, glue: dowels of at most {:g} mm are wanted, the smallest chosen "
                           "is {} mm; allow that, or place a thinner one by hand",
                           wanted, smallest);
    const double clearance = m_ground.jointOf(seam, JointForm{}).clearanceMm;
    return fmt::format("plain butt face, glue: the smallest dowel ({} mm) needs {:.1f} mm around its axis "
                       "(radius, clearance and a {:.1f} mm wall), and the roomiest place of this face of "
                       "{:.0f} mm2 has {:.1f} mm; a thicker wall there, or another place for the cut, would help",
                       smallest, radiusNeededMm(smallest, clearance, m_options.wallMm), m_options.wallMm,
                       m_ground.seam(seam).areaMm2, std::max(0.0, m_out.reports[seam].roomMm));
}

} // namespace quoin::core
