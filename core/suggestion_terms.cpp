// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/suggestion_terms.h"

#include "core/section_score.h"
#include "mesh/mass.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

namespace quoin::core {

namespace {

constexpr double mm3InCm3 = 1000, mm2InCm2 = 100;

/// A volume or an area as people read it: three figures, no more than one place.
std::string figures(double value)
{
    return value < 10 ? fmt::format("{:.1f}", value) : fmt::format("{:.0f}", value);
}

} // namespace

SuggestionTerms termsOf(const std::vector<Piece>& pieces, const std::vector<Seam>& seams, const LowerBound& bound)
{
    SuggestionTerms out;
    out.bound = bound;
    out.pieces = static_cast<int>(pieces.size());
    out.seams = static_cast<int>(seams.size());
    for (const Seam& seam : seams) {
        out.cutAreaCm2 += seam.areaMm2 / mm2InCm2;
        out.seamsWithoutRoom += hasRoomForTwo(seam.region) ? 0 : 1;
    }
    double all = 0;
    out.smallestCm3 = pieces.empty() ? 0 : std::numeric_limits<double>::infinity();
    for (const Piece& piece : pieces) {
        const double cm3 = std::abs(mesh::volume(piece.mesh)) / mm3InCm3;
        all += cm3;
        out.largestCm3 = std::max(out.largestCm3, cm3);
        out.smallestCm3 = std::min(out.smallestCm3, cm3);
        const mesh::Vec3 e = mesh::bounds(piece.mesh).extents();
        out.longestMm = std::max({out.longestMm, e.x, e.y, e.z});
        out.standFlat += piece.pose.standsFlat ? 1 : 0;
        if (piece.pose.slackMm < 0) {
            ++out.tooLarge;
            out.largestOverhangMm = std::max(out.largestOverhangMm, -piece.pose.slackMm);
        }
    }
    if (all > 0)
        out.smallestShare = out.smallestCm3 * static_cast<double>(pieces.size()) / all;
    return out;
}

Result<SuggestionTerms> termsOf(const mesh::Mesh& part, const CutPlan& plan, const std::vector<Bed>& beds,
                                const FitOptions& fit, bool islandsApart, const LowerBound& bound,
                                const Context& context, const CutJudge* judge)
{
    auto leaves = cutByPlan(part, plan, context);
    if (!leaves)
        return leaves.problem();
    std::vector<Piece> pieces = piecesOf(*leaves, islandsApart);
    for (Piece& piece : pieces) {
        if (context.cancelled())
            return Problem{Reason::Cancelled, "cancelled while comparing ways of cutting", {}, {}, {}};
        const PieceShape shape(piece.mesh);
        auto pose = fitOnBeds(shape, beds, fit);
        if (!pose)
            pose = closestPose(shape, beds, fit);
        if (!pose)
            return Problem{
                Reason::BadArgument, "ways of cutting can't be compared without a bed", {}, {}, "Choose a bed."};
        piece.pose = *pose;
    }
    SuggestionTerms out = termsOf(pieces, seamsOf(pieces, plan), bound);
    if (judge != nullptr) {
        auto judged = judgePlan(*judge, part, plan, pieces, context);
        if (!judged)
            return judged.problem();
        out.judged = std::move(*judged);
    }
    return out;
}

std::vector<Term> termLines(const SuggestionTerms& t)
{
    using Good = Term::Good;
    const std::string notReckoned = "not reckoned";
    const bool bounded = !t.bound.reason.empty();
    std::vector<Term> lines{
        {"pieces", "Pieces", fmt::format("{}", t.pieces), "What is printed. Fewer mean fewer seams and less work.",
         static_cast<double>(t.pieces), Good::Less},
        {"lower_bound", "Fewest possible", bounded ? fmt::format("{} or more", t.bound.pieces) : notReckoned,
         bounded ? "No way of cutting needs fewer pieces: " + t.bound.reason + "." : std::string(),
         static_cast<double>(t.bound.pieces), Good::Neither, bounded},
        {"gap", "Above that",
         !bounded       ? notReckoned
         : t.gap() == 0 ? "none"
                        : fmt::format("{}", t.gap()),
         "Pieces more than the fewest possible. None: it is proved that no way of cutting has fewer.",
         static_cast<double>(t.gap()), Good::Less, bounded},
        {"too_large", "Too large", t.tooLarge == 0 ? "none" : fmt::format("{}", t.tooLarge),
         "Pieces that fit none of the beds.", static_cast<double>(t.tooLarge), Good::Less},
        {"overhang_mm", "Largest overhang", t.tooLarge == 0 ? "none" : fmt::format("{:.1f} mm", t.largestOverhangMm),
         "By how much the worst of the pieces that are too large sticks out of its bed.", t.largestOverhangMm,
         Good::Less},
        {"seams", "Seams", fmt::format("{}", t.seams), "Faces to be joined.", static_cast<double>(t.seams), Good::Less},
        {"seams_without_room", "Too small to joint",
         t.seamsWithoutRoom == 0 ? "none" : fmt::format("{}", t.seamsWithoutRoom),
         fmt::format("Seams where joints have no room: they don't take two dowels of {:g} mm with a wall of {:g} mm "
                     "around them.",
                     roomDowelMm, roomWallMm),
         static_cast<double>(t.seamsWithoutRoom), Good::Less},
        {"cut_area_cm2", "Cut area", figures(t.cutAreaCm2) + " cm2", "Area of all seams: what is glued and shows.",
         t.cutAreaCm2, Good::Less},
        {"need_support", "Need support", t.pieces == t.standFlat ? "none" : fmt::format("{}", t.pieces - t.standFlat),
         "Pieces that fit their bed standing on none of their flat faces.", static_cast<double>(t.pieces - t.standFlat),
         Good::Less},
        {"largest_cm3", "Largest piece", figures(t.largestCm3) + " cm3", "Solid volume of the largest piece.",
         t.largestCm3, Good::Neither},
        {"smallest_cm3", "Smallest piece", figures(t.smallestCm3) + " cm3", "Solid volume of the smallest piece.",
         t.smallestCm3, Good::Neither},
        {"smallest_share", "Smallest to average", fmt::format("{:.0f} %", 100 * t.smallestShare),
         "A piece far smaller than the others is a sliver: easily lost, and hardly worth its seam.", t.smallestShare,
         Good::More},
        {"longest_mm", "Longest side", fmt::format("{:.0f} mm", t.longestMm),
         "Longest side of any piece as it stands in the sculpture.", t.longestMm, Good::Neither},
    };
    // What cuts are chosen by: numbers without a unit.
    const auto line = [&](const char* key, const char* name, const char* help, double value) {
        lines.push_back({std::string("judged_") + key, name,
                         t.judged.judged ? fmt::format("{:.2f}", value) : notReckoned, help, value, Good::Less,
                         t.judged.judged});
    };
    line("weighed", "Weighed sum", "All terms below, each times its weight.", weighed(t.judged.total, t.weights));
    for (const CutTermKind& kind : cutTermKinds())
        line(kind.key, kind.name, kind.help, t.judged.total.*kind.value);
    return lines;
}

Verdict verdictOn(const Term& term, const Term& other)
{
    if (term.words == other.words || term.value == other.value || !term.known || !other.known)
        return Verdict::Same;
    if (term.good == Term::Good::Neither)
        return Verdict::Different;
    return (term.value < other.value) == (term.good == Term::Good::Less) ? Verdict::Better : Verdict::Worse;
}

} // namespace quoin::core
