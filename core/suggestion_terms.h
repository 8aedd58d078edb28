// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/bed_fit.h"
#include "core/lower_bound.h"
#include "core/piece.h"
#include "core/plan_terms.h"
#include "mesh/context.h"
#include "mesh/result.h"

#include <string>
#include <string_view>
#include <vector>

namespace quoin::core {

/// What a way of cutting comes to, in plain numbers, for comparing it with another.
struct SuggestionTerms {
    int pieces = 0;
    LowerBound bound;         ///< no way of cutting needs fewer; without a reason: not known
    int seams = 0;            ///< faces to be joined
    double cutAreaCm2 = 0;    ///< of the seams
    int seamsWithoutRoom = 0; ///< that don't take two dowels (core/section_score.h)
    double largestCm3 = 0;    ///< solid volume of the largest piece
    double smallestCm3 = 0;
    double smallestShare = 0;     ///< smallest piece over the average one; far under 1: a sliver
    double longestMm = 0;         ///< longest side of any piece as it stands in the part
    int standFlat = 0;            ///< pieces that stand on a flat face; the others need support
    int tooLarge = 0;             ///< pieces that fit no bed
    double largestOverhangMm = 0; ///< by how much the worst of them sticks out
    PlanTerms judged;             ///< the terms that cuts are chosen by, if they were reckoned
    CutWeights weights;           ///< and their weights
    /// How many pieces more there are than there could ever be.
    int gap() const { return pieces - bound.pieces; }
};

/// @param pieces  with their poses; a pose with slackMm < 0 doesn't fit
SuggestionTerms termsOf(const std::vector<Piece>& pieces, const std::vector<Seam>& seams, const LowerBound& bound);

/// The same for a plan: cut, posed (closest pose where nothing fits) and its seams found. Cancelled, BadArgument
/// without beds, or what cutting fails by.
/// @param judge  of the same part: fills in `judged`; may be null
Result<SuggestionTerms> termsOf(const mesh::Mesh& part, const CutPlan& plan, const std::vector<Bed>& beds,
                                const FitOptions& fit, bool islandsApart, const LowerBound& bound,
                                const Context& context = {}, const CutJudge* judge = nullptr);

/// One line of a comparison.
struct Term {
    enum class Good { Less, More, Neither }; ///< which way is better
    std::string key;                         ///< "cut_area", for machines
    std::string name;                        ///< "Cut area"
    std::string words;                       ///< "431 cm2": with its unit
    std::string help;                        ///< what it says and why it matters
    double value = 0;
    Good good = Good::Neither;
    bool known = true; ///< else nothing can be said of it
};

/// The terms in the order of their weight; the same keys in the same order for every plan.
std::vector<Term> termLines(const SuggestionTerms& terms);

enum class Verdict { Same, Better, Worse, Different };
/// How a term stands against the same term of another plan; differences that the words don't show are none.
Verdict verdictOn(const Term& term, const Term& other);

} // namespace quoin::core
