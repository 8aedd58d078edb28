// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/cut_terms.h"

#include <fmt/format.h>

#include <cctype>
#include <charconv>
#include <cmath>
#include <set>

namespace quoin::core {

namespace {

constexpr double mostWeight = 1000;

std::string plain(std::string_view text)
{
    std::string out;
    for (const char c : text)
        out += c == '-' || c == '_' ? ' ' : static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    const auto from = out.find_first_not_of(" \t"), to = out.find_last_not_of(" \t");
    return from == std::string::npos ? std::string() : out.substr(from, to - from + 1);
}

Problem badWeight(const std::string& what)
{
    std::string keys;
    for (const CutTermKind& kind : cutTermKinds())
        keys += (keys.empty() ? "" : ", ") + std::string(kind.key);
    return {Reason::BadArgument, what, {}, {}, "Write term=number, as in seams=2,area=0. Terms: " + keys + "."};
}

} // namespace

CutTerms& CutTerms::operator+=(const CutTerms& o)
{
    for (const CutTermKind& kind : cutTermKinds())
        this->*kind.value += o.*kind.value;
    return *this;
}

double weighed(const CutTerms& terms, const CutWeights& weights)
{
    double sum = 0;
    for (const CutTermKind& kind : cutTermKinds())
        sum += weights.*kind.weight * terms.*kind.value;
    return sum;
}

const std::array<CutTermKind, 8>& cutTermKinds()
{
    static const std::array<CutTermKind, 8> kinds{{
        {"seams", "Seams seen",
         "Length of the seams on the skin, each place by how much of the viewers' directions it is seen from, as "
         "against a free upright wall. 1 is once round the largest side of the bed, in full view.",
         &CutTerms::seams, &CutWeights::seams},
        {"slivers", "Slivers and thin places",
         "Share of the seam's length where the skin meets the cut at less than 45 degrees, so that one side becomes a "
         "feather edge, or where the skin runs close along the cut; and share of the face that is narrower than a bore "
         "with its walls.",
         &CutTerms::slivers, &CutWeights::slivers},
        {"strength", "Strain at the cut",
         "Square root of the stress in the section from the weight of what hangs on it, over what the material bears "
         "across its layers with the safety wanted. 1: used up. Estimated; it is no proof of strength.",
         &CutTerms::strength, &CutWeights::strength},
        {"room", "Lack of room for joints",
         "Share of the face's islands that don't take two dowels with their walls, on the face and in depth, each by "
         "how much it lacks.",
         &CutTerms::room, &CutWeights::room},
        {"support", "Support in printing",
         "Shadow of the overhangs steeper than 45 degrees that want support when the leaves under the cut are printed, "
         "over the area of the bed; 0.5 more for each that stands on no flat face.",
         &CutTerms::support, &CutWeights::support},
        {"balance", "Uneven sizes",
         "Share of the material that would have to be shifted to make all pieces the same size (Hoover 1936); each "
         "piece counts for the cut that made it.",
         &CutTerms::balance, &CutWeights::balance},
        {"symmetry", "Against symmetry",
         "On a part with a mirror plane: how far a cut is from the mirror image of the nearest cut, over the bed's "
         "largest side, 1 at most.",
         &CutTerms::symmetry, &CutWeights::symmetry},
        {"area", "Cut area", "Area of the face, over the bed's largest side: what is glued.", &CutTerms::area,
         &CutWeights::area},
    }};
    return kinds;
}

const std::array<CutPreference, 4>& cutPreferences()
{
    static const std::array<CutPreference, 4> all{CutPreference::FewestPieces, CutPreference::HiddenSeams,
                                                  CutPreference::Strongest, CutPreference::LeastSupport};
    return all;
}

const char* preferenceName(CutPreference preference)
{
    switch (preference) {
    case CutPreference::FewestPieces:
        return "fewest pieces";
    case CutPreference::HiddenSeams:
        return "hidden seams";
    case CutPreference::Strongest:
        return "strongest";
    case CutPreference::LeastSupport:
        break;
    }
    return "least support";
}

const char* preferenceHelp(CutPreference preference)
{
    switch (preference) {
    case CutPreference::FewestPieces:
        return "As few pieces as possible; among those a bit of everything.";
    case CutPreference::HiddenSeams:
        return "Seams in folds, hollows and underneath, where they aren't seen.";
    case CutPreference::Strongest:
        return "Cuts through stout sections with room for joints and little hanging on them.";
    case CutPreference::LeastSupport:
        break;
    }
    return "Pieces that print on their flat faces with few overhangs.";
}

CutWeights weightsFor(CutPreference preference)
{
    CutWeights w;
    switch (preference) {
    case CutPreference::FewestPieces:
        break;
    case CutPreference::HiddenSeams:
        w.seams = 4;
        break;
    case CutPreference::Strongest:
        w.strength = 4;
        w.room = 2;
        w.slivers = 2;
        w.area = 0; // a larger face is a stronger one
        break;
    case CutPreference::LeastSupport:
        w.support = 4;
        break;
    }
    return w;
}

Result<CutPreference> preferenceFromText(std::string_view text)
{
    std::string known;
    for (const CutPreference p : cutPreferences()) {
        if (plain(text) == preferenceName(p))
            return p;
        known += (known.empty() ? "" : ", ") + std::string(preferenceName(p));
    }
    return Problem{
        Reason::BadArgument, fmt::format("\"{}\" is none of the preferences", text), {}, {}, "Known: " + known + "."};
}

Result<CutWeights> weightsFromText(std::string_view text, const CutWeights& from)
{
    CutWeights out = from;
    std::set<std::string> given;
    while (!text.empty()) {
        const std::size_t comma = std::min(text.find(','), text.size());
        const std::string_view one = text.substr(0, comma);
        text.remove_prefix(std::min(comma + 1, text.size()));
        const std::size_t equals = one.find('=');
        if (equals == std::string_view::npos)
            return badWeight(fmt::format("\"{}\" gives no number", one));
        const std::string key = plain(one.substr(0, equals));
        const CutTermKind* kind = nullptr;
        for (const CutTermKind& k : cutTermKinds())
            if (key == k.key)
                kind = &k;
        if (kind == nullptr)
            return badWeight(fmt::format("there is no term \"{}\"", key));
        if (!given.insert(key).second)
            return badWeight(fmt::format("the weight of {} is given twice", key));
        const std::string raw(one.substr(equals + 1)); // plain() has made a space of the sign
        double value = 0;
        const char* first = raw.data() + std::min(raw.find_first_not_of(" \t"), raw.size());
        const char* last = raw.data() + raw.size();
        while (last != first && (last[-1] == ' ' || last[-1] == '\t'))
            --last;
        const auto [end, error] = std::from_chars(first, last, value);
        if (error != std::errc{} || end != last || first == last || !(value >= 0 && value <= mostWeight))
            return badWeight(fmt::format("the weight of {} must be a number from 0 to {:g}", key, mostWeight));
        out.*kind->weight = value;
    }
    return out;
}

std::string weightsText(const CutWeights& weights)
{
    std::string out;
    for (const CutTermKind& kind : cutTermKinds())
        out += fmt::format("{}{}={:g}", out.empty() ? "" : ",", kind.key, weights.*kind.weight);
    return out;
}

} // namespace quoin::core
