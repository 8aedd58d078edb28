// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_chooser.h"

#include "core/choose_bolts.h"
#include "core/choose_screw.h"
#include "core/choose_slides.h"
#include "core/mark.h"
#include "core/section_forces.h"
#include "core/witness.h"

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
           joint.kind == Kind::Stud || joint.kind == Kind::ClockingKey;
}

} // namespace

JointChooser::JointChooser(const std::vector<Piece>& pieces, const std::vector<Seam>& seams, const CutPlan& plan,
                           const JointOptions& options, const SeamChoices& choices)
    : m_options(options),
      m_choices(choices),
      m_ground(pieces, seams, plan, options, choices),
      m_loads(pieces, seams, plan, choices.material, choices.load)
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
    const Best best = kind ? ofKind(seam, found.sites, *kind) : suited(seam, found.sites);
    for (const Joint& joint : best.chosen.joints)
        m_ground.put(joint);
    report.butt = best.chosen.joints.empty();
    report.text = report.butt ? buttWords(seam) : best.chosen.text;
    if (best.carried)
        report.text += "; " + carriedWords(*best.carried);
}

/// Takes a way to join a face for the best so far, unless what is there carries as much; whether it carries what it
/// has to. Without a load the first way that there is will do.
bool JointChooser::enough(std::size_t seam, Chosen chosen, Best& best) const
{
    if (!chosen)
        return false;
    std::vector<Joint> joints = m_ground.joints();
    joints.insert(joints.end(), chosen.joints.begin(), chosen.joints.end());
    const auto carried = m_loads.carried(seam, joints);
    // A little more is no reason for a way that is less usual.
    constexpr double better = 1.05;
    if (!best.chosen || (carried && best.carried && carried->safety > better * best.carried->safety))
        best = {std::move(chosen), carried};
    return !carried || carried->enough();
}

bool JointChooser::clockedWish(std::size_t seam) const
{
    const FaceChoice* choice = m_choices.of(seam);
    return choice != nullptr && (choice->clocked || choice->kind) ? choice->clocked : m_options.clocked;
}

/// What is chosen with a clocking key beside it; as it was, and why not, where there is no room for one.
Chosen JointChooser::withClockingKey(std::size_t seam, Chosen screw) const
{
    JointGround with = m_ground;
    for (const Joint& joint : screw.joints)
        with.put(joint);
    Chosen key = clockingKey(with, seam, screw.joints.front());
    screw.joints.insert(screw.joints.end(), key.joints.begin(), key.joints.end());
    screw.text += (key ? ", and " : "; ") + key.text;
    return screw;
}

/// A screw, with a clocking key where that is wished for or the torsion asks for it.
bool JointChooser::enoughScrew(std::size_t seam, Chosen screw, Best& best) const
{
    if (!screw)
        return false;
    if (clockedWish(seam))
        return enough(seam, withClockingKey(seam, std::move(screw)), best);
    Best alone;
    const bool holds = enough(seam, screw, alone);
    if (!holds && alone.carried && alone.carried->weakest == turnedByTorsion)
        if (Chosen clocked = withClockingKey(seam, screw); clocked.joints.size() > screw.joints.size()) {
            clocked.text +=
                fmt::format(" (the torsion on the face would turn it at {:.1f} times)", alone.carried->safety);
            return enough(seam, std::move(clocked), best);
        }
    return enough(seam, std::move(screw), best);
}

/// Dowels as the face's size asks for; larger ones, then more of them, where the load does.
bool JointChooser::enoughDowels(std::size_t seam, const std::vector<JointSite>& sites, Best& best) const
{
    Best own;
    bool holds = enough(seam, dowelsOrOne(seam, sites), own);
    for (const DowelWish& wish : {DowelWish{1.3, 1}, DowelWish{1.3, 2}, DowelWish{1.7, 2}}) {
        // More dowels help where it is they that give way, not the glue or the material beside them.
        if (holds || !own.chosen || !own.carried || !own.carried->weakest.starts_with("dowel"))
            break;
        holds = enough(seam, severalDowels(m_ground, seam, dowelSites(m_ground, seam, wish).sites, wish), own);
    }
    return enough(seam, std::move(own.chosen), best);
}

Chosen JointChooser::dowelsOrOne(std::size_t seam, const std::vector<JointSite>& sites) const
{
    if (Chosen wall = wallDowels(m_ground, seam))
        return wall;
    if (Chosen several = severalDowels(m_ground, seam, sites))
        return several;
    return oneDowel(m_ground, seam, sites);
}

namespace {

std::string wouldCarry(const Carried& carried)
{
    constexpr double nothing = 0.01;
    return carried.safety < nothing ? std::string("would carry next to nothing of its load")
                                    : fmt::format("would carry its load at {:.2g} times only", carried.safety);
}

} // namespace

/// What suits the face: by its width, its shape, what can be put together, and what it has to carry.
JointChooser::Best JointChooser::suited(std::size_t seam, const std::vector<JointSite>& sites) const
{
    Best best;
    if (enough(seam, wallDowels(m_ground, seam), best))
        return best;
    const double width = largestCircleMm(m_ground.seam(seam).region);
    if (best.chosen || width < bigFaceMm) {
        // Only a load asks for more than dowels here.
        if (enoughDowels(seam, sites, best) || !best.chosen || !best.carried ||
            enoughScrew(seam, centreScrew(m_ground, seam, Kind::Screw, true), best))
            return best;
        enough(seam, cornerBolts(m_ground, seam, sites), best);
        return best;
    }
    Chosen screw = centreScrew(m_ground, seam, Kind::Screw, true);
    if (enoughScrew(seam, screw, best))
        return best;
    Chosen stud = centreScrew(m_ground, seam, Kind::Stud);
    if (stud)
        stud.text += "; loose, since on their beds neither piece has room for it to stand out";
    if (!screw && enoughScrew(seam, stud, best))
        return best;
    const std::string why = best.carried ? "one " + wouldCarry(*best.carried) : stud.text;
    Chosen bolts = cornerBolts(m_ground, seam, sites);
    std::string noBolts = bolts.text;
    if (bolts) {
        bolts.text += fmt::format(": the face is {:.0f} mm across; no screw: {}", width, why);
        Best bolted;
        if (enough(seam, bolts, bolted))
            return bolted;
        noBolts = "bolts " + wouldCarry(*bolted.carried);
        enough(seam, std::move(bolts), best);
    }
    Chosen dowels = dowelsOrOne(seam, sites);
    if (dowels)
        dowels.text += fmt::format(" (the face is {:.0f} mm across; no screw: {}; {})", width, why, noBolts);
    enough(seam, std::move(dowels), best);
    return best;
}

JointChooser::Best JointChooser::ofKind(std::size_t seam, const std::vector<JointSite>& sites, Kind kind) const
{
    Best best;
    Chosen chosen;
    switch (kind) {
    case Kind::Dowel:
        enoughDowels(seam, sites, best);
        return best;
    case Kind::ClockingKey:
        chosen = centreScrew(m_ground, seam, Kind::Screw);
        if (chosen)
            chosen = withClockingKey(seam, std::move(chosen));
        break;
    case Kind::Screw:
    case Kind::Stud:
        chosen = centreScrew(m_ground, seam, kind);
        if (chosen) {
            enoughScrew(seam, std::move(chosen), best);
            return best;
        }
        break;
    case Kind::Key:
        chosen = oneKey(m_ground, seam, sites, JointForm::Section::D);
        break;
    case Kind::Dovetail:
        chosen = slidingDovetail(m_ground, seam);
        break;
    case Kind::DrawBolt:
        chosen = cornerBolts(m_ground, seam, sites);
        break;
    }
    if (chosen) {
        enough(seam, std::move(chosen), best);
        return best;
    }
    Chosen dowels = dowelsOrOne(seam, sites);
    if (dowels)
        dowels.text += fmt::format(" (a {} was asked for: {})", kindName(kind),
                                   chosen.text.empty() ? "it has no room" : chosen.text);
    enough(seam, std::move(dowels), best);
    return best;
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

void JointChooser::witness(std::size_t seam)
{
    WitnessPlace place = placeWitness(m_ground, seam, m_out.marks, m_out.witnesses);
    std::string& text = m_out.reports[seam].text;
    if (!place.witness) {
        text += "; " + place.why;
        return;
    }
    const auto& stations = place.witness->stations;
    text += fmt::format("; a witness line across the seam, {:.0f} mm on either side",
                        mesh::length(stations.front().at - stations[place.witness->crossing].at));
    m_out.witnesses.push_back(std::move(*place.witness));
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
