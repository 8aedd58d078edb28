// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/assembly_words.h"

#include "core/assembly_ways.h"
#include "core/joint_dovetail.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <numeric>

namespace quoin::core {

namespace {

std::string sizeWords(const Joint& joint)
{
    const char* hand = joint.thread.leftHand ? "left-hand " : "";
    switch (joint.kind) {
    case JointForm::Kind::Screw:
    case JointForm::Kind::Stud:
        return fmt::format("{}{} of {:g} mm, lead {:g} mm", hand, kindName(joint.kind), joint.diameterMm,
                           joint.thread.leadMm());
    case JointForm::Kind::DrawBolt:
        return fmt::format("draw bolt M{:g}", joint.diameterMm);
    case JointForm::Kind::Key:
        return fmt::format("{}key of {:g} mm", joint.integral ? "integral " : "", joint.diameterMm);
    case JointForm::Kind::Dovetail:
        return fmt::format("dovetail of {:g} mm", joint.diameterMm);
    case JointForm::Kind::ClockingKey:
        return fmt::format("clocking key of {:g} mm", joint.diameterMm);
    case JointForm::Kind::Dowel:
        break;
    }
    return fmt::format("{}dowel of {:g} mm", joint.keyed ? "keyed " : "", joint.diameterMm);
}

/// "2 dowels of 8 mm".
std::string counted(std::string words, int count)
{
    if (count > 1)
        if (const std::size_t of = words.find(words.starts_with("draw") ? " M" : " of "); of != std::string::npos)
            words.insert(of, "s");
    return fmt::format("{} {}", count, words);
}

} // namespace

std::string numberWords(const std::vector<int>& pieces)
{
    std::string words;
    for (std::size_t i = 0; i < pieces.size(); ++i)
        words += (i == 0 ? "" : i + 1 == pieces.size() ? " and " : ", ") + std::to_string(pieces[i]);
    return words;
}

AssemblyWords::AssemblyWords(const AssemblyInput& input) : m_input(input), m_up(input.count() + 1)
{
    std::iota(m_up.begin(), m_up.end(), 0);
}

int AssemblyWords::root(int piece)
{
    while (m_up[static_cast<std::size_t>(piece)] != piece)
        piece = m_up[static_cast<std::size_t>(piece)];
    return piece;
}

void AssemblyWords::join(int a, int b)
{
    a = root(a);
    b = root(b);
    m_up[static_cast<std::size_t>(std::max(a, b))] = std::min(a, b);
}

/// "1+2", or "1+2 and 5 (placed together)" when they don't hang together yet.
std::string AssemblyWords::side(const std::vector<int>& pieces)
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

std::string AssemblyWords::motionWords(const AssemblyStep& step) const
{
    const Motion& m = step.motion;
    if (m.kind == Motion::Kind::Helix)
        return fmt::format("along {} by {:.1f} turns, {} seen from behind it, until the faces meet",
                           directionWords(m.direction), m.turns(), m.leadMm > 0 ? "clockwise" : "counter-clockwise");
    return "along " + directionWords(m.direction);
}

std::string AssemblyWords::jointWords(const AssemblyStep& step) const
{
    std::map<std::string, int> kinds;
    for (const std::size_t j : step.joints)
        if ((*m_input.joints)[j].kind != JointForm::Kind::ClockingKey)
            ++kinds[sizeWords((*m_input.joints)[j])];
    int seams = 0, butt = 0;
    for (std::size_t s = 0; s < m_input.seams->size(); ++s) {
        const Seam& seam = (*m_input.seams)[s];
        const auto isIn = [](const std::vector<int>& list, int p) {
            return std::binary_search(list.begin(), list.end(), p);
        };
        if (!(isIn(step.moving, seam.pieceBelow) && isIn(step.onto, seam.pieceAbove)) &&
            !(isIn(step.onto, seam.pieceBelow) && isIn(step.moving, seam.pieceAbove)))
            continue;
        ++seams;
        butt += std::none_of(step.joints.begin(), step.joints.end(),
                             [&](std::size_t j) { return (*m_input.joints)[j].seam == s; });
    }
    if (seams == 0)
        return "they don't touch there: hold them in place until a later step joins them.";
    std::string words;
    for (const auto& [kind, count] : kinds)
        words += (words.empty() ? "" : ", ") + counted(kind, count);
    if (butt > 0)
        words += fmt::format("{}{} plain face{} to glue", words.empty() ? "" : ", ", butt, butt == 1 ? "" : "s");
    return words + "." + lastWords(step);
}

/// What is let in from outside when the pieces are together.
std::string AssemblyWords::lastWords(const AssemblyStep& step) const
{
    std::string words;
    for (const std::size_t j : step.joints)
        if (const Joint& joint = (*m_input.joints)[j]; joint.kind == JointForm::Kind::ClockingKey)
            words += fmt::format(" Then let the {} in from outside along {}, down to the end of its slot.",
                                 sizeWords(joint), directionWords(-dovetailWay(joint, m_input.cutOf(joint))));
    return words;
}

void AssemblyWords::describe(std::vector<AssemblyStep>& steps)
{
    for (AssemblyStep& step : steps) {
        const bool slides = std::any_of(step.joints.begin(), step.joints.end(), [&](std::size_t j) {
            return (*m_input.joints)[j].kind == JointForm::Kind::Dovetail;
        });
        const char* verb = step.motion.kind == Motion::Kind::Helix ? "Screw" : slides ? "Slide" : "Push";
        step.words = fmt::format("{} {} onto {} {}, {}", verb, side(step.moving), side(step.onto), motionWords(step),
                                 jointWords(step));
        for (const int piece : step.moving)
            for (const int other : step.onto)
                for (const Seam& seam : *m_input.seams)
                    if (std::minmax(seam.pieceBelow, seam.pieceAbove) == std::minmax(piece, other))
                        join(piece, other);
    }
}

} // namespace quoin::core
