// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_layout.h"

#include "core/assembly.h"
#include "core/joint_chooser.h"
#include "core/joint_rules.h"
#include "core/joint_size.h"
#include "core/turning.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace quoin::core {

namespace {

/// Sizes by hand that could not be made anywhere are refused before anything is laid out.
Status requireSizes(const std::vector<Seam>& seams, const JointOptions& options, const SeamChoices& choices)
{
    for (const auto& [seam, choice] : choices.bySeam) {
        if (choice.how != FaceChoice::How::ByHand || seam >= seams.size())
            continue;
        const auto joints = jointsByHand(seam, choice, choices.clearances(seam, options), options.chordMm);
        for (std::size_t i = 0; i < joints.size(); ++i)
            if (const std::string what = sizeFault(joints[i]); !what.empty())
                return Problem{
                    Reason::BadArgument,
                    fmt::format("{} {}{} placed by hand: {}", kindName(joints[i].kind), seams[seam].mark, i + 1, what),
                    {},
                    {},
                    "Change it or remove it."};
    }
    return Done{};
}

/// Adds to the faults what keeps a screw or a stud placed by hand from being turned in. Those that are chosen were
/// tried before.
void tellUnturnable(const std::vector<Piece>& pieces, const std::vector<Seam>& seams, const CutPlan& plan,
                    const SeamChoices& choices, JointLayout& layout)
{
    for (std::size_t j = 0; j < layout.joints.size(); ++j) {
        const Joint& joint = layout.joints[j];
        const FaceChoice* choice = choices.of(joint.seam);
        const bool turns = joint.kind == Joint::Kind::Screw || joint.kind == Joint::Kind::Stud;
        if (!turns || choice == nullptr || choice->how != FaceChoice::How::ByHand ||
            !turnObstacleOf(pieces, seams, plan, joint.seam))
            continue;
        std::vector<Joint> others = layout.joints;
        others.erase(others.begin() + static_cast<std::ptrdiff_t>(j));
        const auto obstacle = turnObstacle(assemblyInput(pieces, plan, seams, others), joint);
        if (!obstacle)
            continue;
        const auto known = std::ranges::find(layout.faults, j, &JointFault::joint);
        if (known != layout.faults.end())
            known->text += "; " + *obstacle;
        else
            layout.faults.push_back({j, *obstacle, false});
    }
}

} // namespace

Result<JointLayout> layOutJoints(const std::vector<Piece>& pieces, const std::vector<Seam>& seams, const CutPlan& plan,
                                 const JointOptions& options, const SeamChoices& choices, const Context& context)
{
    if (const Status s = requireSizes(seams, options, choices); !s)
        return s.problem();
    JointChooser chooser(pieces, seams, plan, options, choices);
    // By hand first, so that what is chosen keeps clear of it; marks and witness lines last: they take what is left.
    for (std::size_t i = 0; i < seams.size(); ++i)
        chooser.byHand(i);
    const double steps = 3.0 * static_cast<double>(seams.size());
    for (std::size_t pass = 0; pass < 3; ++pass)
        for (std::size_t i = 0; i < seams.size(); ++i) {
            if (context.cancelled())
                return Problem{Reason::Cancelled, "cancelled while laying out joints", {}, {}, {}};
            context.report(static_cast<double>(pass * seams.size() + i) / steps, "laying out joints");
            if (pass == 0)
                chooser.choose(i);
            else if (pass == 1 && options.marks)
                chooser.mark(i);
            else if (pass == 2 && options.witness)
                chooser.witness(i);
        }
    JointLayout layout = chooser.take();
    tellUnturnable(pieces, seams, plan, choices, layout);
    return layout;
}

} // namespace quoin::core
