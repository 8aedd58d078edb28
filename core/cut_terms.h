// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/result.h"

#include <array>
#include <string>
#include <string_view>
#include <vector>

/// What is held against a cut besides the number of pieces, term by term, and how much each of them weighs.
///
/// The objective is lexicographic: what doesn't fit first, then the number of pieces, then the weighted sum of the
/// terms over all cuts. The idea of such a sum is that of Luo, Baran, Rusinkiewicz and Matusik (2012); the terms, their
/// formulas and their scales are our own (core/cut_judge.h). Each is scaled so that a cut of about the bed's own
/// section comes to about 1 when it is as bad as cuts usually get, and 0 when there is nothing to say against it.
namespace quoin::core {

/// The terms of one cut, or the sums over several: numbers without a unit, never negative, less is better.
struct CutTerms {
    double seams = 0;    ///< seen length of the seam, in outlines of the bed's largest side
    double slivers = 0;  ///< share of the outline that is feather-edged, and of the face that is thin
    double strength = 0; ///< how far the section is used by the weight of what hangs on it
    double room = 0;     ///< share of the face's islands that lack room for joints, by how much they lack
    double support = 0;  ///< area to be supported when printing the leaves under the cut, in beds
    double balance = 0;  ///< material to be shifted for leaves of equal size, as a share of all
    double symmetry = 0; ///< how far the cut is from its counterpart on the other side of a mirrored part, in beds
    double area = 0;     ///< area of the face, in the bed's largest side

    CutTerms& operator+=(const CutTerms& o);
    friend bool operator==(const CutTerms&, const CutTerms&) = default;
};

/// How much each term counts; zero: not at all. Finite, not negative.
struct CutWeights {
    double seams = 0.5, slivers = 1, strength = 0.5, room = 1, support = 0.25, balance = 0.25, symmetry = 0.25,
           area = 0.25;

    friend bool operator==(const CutWeights&, const CutWeights&) = default;
};

/// The weighted sum.
double weighed(const CutTerms& terms, const CutWeights& weights);

/// One of the terms: its names, what it says, and where it is kept.
struct CutTermKind {
    const char* key;  ///< "seams": for programs and the command line
    const char* name; ///< "Seams seen"
    const char* help; ///< what it says, how it is reckoned and in what unit
    double CutTerms::*value;
    double CutWeights::*weight;
};

/// All terms in the order in which they are shown.
const std::array<CutTermKind, 8>& cutTermKinds();

/// Weights that go together, by what the maker wants.
enum class CutPreference { FewestPieces, HiddenSeams, Strongest, LeastSupport };

/// All of them in the order in which they are shown.
const std::array<CutPreference, 4>& cutPreferences();
/// "fewest pieces", "hidden seams", "strongest", "least support".
const char* preferenceName(CutPreference preference);
/// One sentence on what it is for.
const char* preferenceHelp(CutPreference preference);
/// The number of pieces comes first with each of them.
CutWeights weightsFor(CutPreference preference);

/// By name, any case, "-" or "_" for the space. BadArgument names the known ones.
Result<CutPreference> preferenceFromText(std::string_view text);

/// Weights as the user types them: "seams=2, area=0" changes these and leaves the others as `from` has them.
/// BadArgument for a term that there isn't, given twice, or a number that is none, negative or above 1000.
Result<CutWeights> weightsFromText(std::string_view text, const CutWeights& from);

/// The same back: all terms with their numbers.
std::string weightsText(const CutWeights& weights);

} // namespace quoin::core
