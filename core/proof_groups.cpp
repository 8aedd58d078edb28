// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/proof_groups.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace quoin::core {

namespace {

/// The measured number that comes nearest to its limit, or passes it by most; a failed claim before any other.
const Claim* tightestOf(const std::vector<const Claim*>& group)
{
    const auto room = [](const Claim* c) {
        return c->relation.starts_with('>')   ? c->measured - c->limit
               : c->relation.starts_with('<') ? c->limit - c->measured
                                              : -std::abs(c->measured - c->limit);
    };
    return *std::ranges::min_element(group, {}, [&](const Claim* c) { return std::pair(c->holds, room(c)); });
}

/// One line for a group whose claims say different things each.
constexpr std::array<std::pair<std::string_view, std::string_view>, 18> titles{{
    {"file.read", "the files can be read"},
    {"fit.room", "fits its bed, with the margin kept free"},
    {"piece.side", "stays on its own side of every cut, so pieces can't overlap"},
    {"piece.apart", "islands of one cell don't meet"},
    {"piece.skin", "its skin is the part's, cut faces, bores and marks aside"},
    {"joint.free", "the loose part in its place doesn't meet the pieces"},
    {"joint.clearance", "the loose part keeps its clearance in the bore"},
    {"joint.wall", "the wall around the bore, to the side and past its end"},
    {"joint.size", "the loose part has the planned size and axis"},
    {"seam.joint", "has a joint, or is reported as a plain face"},
    {"witness.depth", "witness lines are grooves along their whole length"},
    {"witness.deepest", "witness lines are no deeper than planned"},
    {"fit.bed", "its bed is one of the project's"},
    {"assembly.free", "nothing is in the way of what moves"},
    {"assembly.turn", "what turns onto a thread is free all the way"},
    {"assembly.access", "bolts, nuts and clocking keys come in from outside at their step"},
    {"joint.hold", "dovetails catch when they are pulled straight off"},
    {"assembly.insert", "loose parts go into their bores without meeting them"},
}};

std::string heading(const std::vector<const Claim*>& group)
{
    const bool oneText = std::ranges::all_of(group, [&](const Claim* c) { return c->text == group.front()->text; });
    if (oneText)
        return group.front()->text;
    const auto title = std::ranges::find(titles, group.front()->id, [](const auto& t) { return std::string(t.first); });
    if (title != titles.end())
        return std::string(title->second);
    std::string words = group.front()->id;
    std::ranges::replace(words, '.', ' ');
    std::ranges::replace(words, '-', ' ');
    return words;
}

/// What a claim is about, by the first word of its id; those that belong together stand together.
std::string_view chapterOf(const Claim& claim)
{
    constexpr std::array<std::pair<std::string_view, std::string_view>, 9> chapters{{{"file", "The files"},
                                                                                     {"list", "The files"},
                                                                                     {"fit", "On the beds"},
                                                                                     {"set", "The part rebuilt"},
                                                                                     {"piece", "The part rebuilt"},
                                                                                     {"joint", "Joints"},
                                                                                     {"seam", "Joints"},
                                                                                     {"witness", "Joints"},
                                                                                     {"assembly", "Assembly"}}};
    const std::string first = claim.id.substr(0, claim.id.find('.'));
    const auto found = std::ranges::find(chapters, first, [](const auto& c) { return std::string(c.first); });
    return found == chapters.end() ? "Other" : found->second;
}

} // namespace

std::vector<ClaimGroup> groupsOf(const std::vector<const Claim*>& claims)
{
    std::vector<ClaimGroup> groups; // in the order of their first claims
    for (const Claim* claim : claims) {
        auto group =
            std::ranges::find_if(groups, [&](const ClaimGroup& g) { return g.claims.front()->id == claim->id; });
        if (group == groups.end())
            group = groups.insert(groups.end(), ClaimGroup{chapterOf(*claim), {}, {}, 0, false, nullptr});
        group->claims.push_back(claim);
        group->failed += !claim->holds;
    }
    std::vector<std::string_view> chapters;
    for (ClaimGroup& group : groups) {
        group.heading = heading(group.claims);
        group.oneText = std::ranges::all_of(group.claims, [&](const Claim* c) { return c->text == group.heading; });
        group.tightest = tightestOf(group.claims);
        if (std::ranges::find(chapters, group.chapter) == chapters.end())
            chapters.push_back(group.chapter);
    }
    std::ranges::stable_sort(groups, {}, [&](const ClaimGroup& g) { return std::ranges::find(chapters, g.chapter); });
    return groups;
}

std::vector<ClaimGroup> groupsOf(const Proof& proof)
{
    std::vector<const Claim*> claims;
    for (const Claim& claim : proof.claims)
        claims.push_back(&claim);
    return groupsOf(claims);
}

std::string claimNumber(double value)
{
    if (!std::isfinite(value))
        return std::isnan(value) ? "not a number" : value > 0 ? "infinite" : "-infinite";
    const double size = std::abs(value);
    if (size != 0 && (size >= 1e9 || size < 1e-4))
        return fmt::format("{:.3g}", value);
    if (size >= 1e6 || value == std::floor(value))
        return fmt::format("{:.0f}", value);
    return fmt::format("{:.6g}", value);
}

std::string relationSign(const std::string& relation)
{
    return relation == "<=" ? "≤" : relation == ">=" ? "≥" : relation;
}

std::string_view withoutNumber(std::string_view line)
{
    const std::size_t digits = line.find_first_not_of("0123456789");
    const bool numbered = digits != std::string_view::npos && digits > 0 && line.substr(digits).starts_with(". ");
    return numbered ? line.substr(digits + 2) : line;
}

} // namespace quoin::core
