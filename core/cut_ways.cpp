// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/cut_ways.h"

#include "core/cut_judge.h"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>

namespace quoin::core {

namespace {

using Clock = std::chrono::steady_clock;

constexpr double sameShare = 0.02;
/// Ways that are judged beyond those asked for: each takes about as long as cutting the part.
constexpr std::size_t spareJudged = 1;

/// Seconds that judging takes for each triangle and way, about (measured on two cores); kept back from the search, but
/// no more than this share of it.
constexpr double judgeSecondsPerTriangle = 0.8e-6, mostKeptBack = 0.3;

double since(Clock::time_point start)
{
    return std::chrono::duration<double>(Clock::now() - start).count();
}

/// Every complete answer that is heard of, the latest last, without those that are much the same as a later one.
class Heard {
public:
    explicit Heard(const mesh::Box3& part) : m_part(part) {}

    void add(Suggestion one)
    {
        std::vector<Suggestion> others = std::move(one.others);
        one.others.clear();
        std::erase_if(m_all, [&](const Suggestion& s) {
            return s.pieces >= one.pieces && muchTheSame(s.plan, one.plan, m_part);
        });
        m_all.push_back(std::move(one));
        for (Suggestion& other : others) {
            const auto same = [&](const Suggestion& s) { return muchTheSame(s.plan, other.plan, m_part); };
            if (std::none_of(m_all.begin(), m_all.end(), same))
                m_all.insert(m_all.end() - 1, std::move(other));
        }
    }
    /// Those that may count, the latest first: no more pieces than allowed above the fewest.
    std::vector<Suggestion> worthJudging(int morePieces, std::size_t most) const
    {
        int fewest = m_all.front().pieces;
        for (const Suggestion& s : m_all)
            fewest = std::min(fewest, s.pieces);
        std::vector<Suggestion> out(m_all.rbegin(), m_all.rend());
        // Alternatives may have a piece more than the best, if there is nothing better to show.
        std::stable_sort(out.begin(), out.end(), [&](const Suggestion& a, const Suggestion& b) {
            return std::max(0, a.pieces - fewest - morePieces) < std::max(0, b.pieces - fewest - morePieces);
        });
        out.resize(std::min(out.size(), most));
        return out;
    }
    bool empty() const { return m_all.empty(); }

private:
    mesh::Box3 m_part;
    std::vector<Suggestion> m_all;
};

Status checked(const SuggestOptions& options)
{
    if (options.morePieces < 0 || options.morePieces > mostMorePieces)
        return Problem{Reason::BadArgument,
                       fmt::format("{} more pieces can't be allowed", options.morePieces),
                       {},
                       {},
                       fmt::format("Give a number from 0 to {}.", mostMorePieces)};
    if (options.alternatives < 1 || options.alternatives > mostAlternatives)
        return Problem{Reason::BadArgument,
                       fmt::format("{} ways can't be asked for", options.alternatives),
                       {},
                       {},
                       fmt::format("Give a number from 1 to {}.", mostAlternatives)};
    return Done{};
}

} // namespace

/// Fewest pieces beyond what is allowed first, then the weighed sum, then the pieces.
void putInOrder(std::vector<CutWay>& ways, int morePieces)
{
    int fewest = ways.front().suggestion.pieces;
    for (const CutWay& w : ways)
        fewest = std::min(fewest, w.suggestion.pieces);
    const auto beyond = [&](const CutWay& w) { return std::max(0, w.suggestion.pieces - fewest - morePieces); };
    const auto sum = [](const CutWay& w) { return weighed(w.terms.judged.total, w.terms.weights); };
    std::stable_sort(ways.begin(), ways.end(), [&](const CutWay& a, const CutWay& b) {
        if (beyond(a) != beyond(b))
            return beyond(a) < beyond(b);
        return sum(a) != sum(b) ? sum(a) < sum(b) : a.suggestion.pieces < b.suggestion.pieces;
    });
}

bool muchTheSame(const CutPlan& a, const CutPlan& b, const mesh::Box3& part)
{
    if (a.nodes.size() != b.nodes.size())
        return false;
    const double radius = length(part.extents()) / 2;
    const auto near = [&](const mesh::Plane& p, mesh::Plane q) {
        if (dot(p.normal, q.normal) < 0)
            q = {-q.normal, -q.offset};
        return std::abs(p.distance(part.centre()) - q.distance(part.centre())) + radius * length(p.normal - q.normal) <
               2 * sameShare * radius;
    };
    const auto covers = [&](const CutPlan& one, const CutPlan& other) {
        return std::all_of(one.nodes.begin(), one.nodes.end(), [&](const CutPlan::Node& n) {
            return std::any_of(other.nodes.begin(), other.nodes.end(),
                               [&](const CutPlan::Node& m) { return near(n.plane, m.plane); });
        });
    };
    return covers(a, b) && covers(b, a);
}

Result<FoundCuts> findCuts(const mesh::Mesh& part, const CutPlan& start, const std::vector<Bed>& beds,
                           const SuggestOptions& options, const Context& context)
{
    if (const Status fine = checked(options); !fine)
        return fine.problem();
    const Clock::time_point began = Clock::now();
    Heard heard(mesh::bounds(part));
    const auto note = [&](Suggestion one) {
        one.seed = options.seed;
        if (!(one.seconds > 0))
            one.seconds = since(began);
        heard.add(std::move(one));
    };
    SuggestOptions listening = options;
    listening.onBetter = [&](const Suggestion& better) {
        note(better);
        if (options.onBetter)
            options.onBetter(better);
    };
    const double judging = judgeSecondsPerTriangle * static_cast<double>(part.triangles.size()) *
                           (options.alternatives + static_cast<double>(spareJudged) + 1);
    listening.seconds = std::max((1 - mostKeptBack) * options.seconds, options.seconds - judging);
    FoundCuts found;
    auto best = suggestGrid(part, start, beds, listening, context);
    if (best)
        note(std::move(*best));
    else if (best.problem().reason != Reason::Cancelled || heard.empty())
        return best.problem();
    else
        found.stoppedEarly = true;
    // Not to be cancelled from here on: who has stopped the search wants to see what it found.
    const CutJudge judge(part, beds, options.fit.marginMm, options.judge);
    const std::size_t most = found.stoppedEarly ? 1 : static_cast<std::size_t>(options.alternatives) + spareJudged;
    for (Suggestion& one : heard.worthJudging(options.morePieces, most)) {
        auto terms = termsOf(part, one.plan, beds, options.fit, options.islandsApart, one.bound, {}, &judge);
        if (!terms)
            return terms.problem();
        terms->weights = options.weights;
        one.terms = terms->judged;
        found.ways.push_back({std::move(one), std::move(*terms)});
    }
    putInOrder(found.ways, options.morePieces);
    if (found.ways.size() > static_cast<std::size_t>(options.alternatives))
        found.ways.erase(found.ways.begin() + options.alternatives, found.ways.end());
    found.seconds = since(began);
    return found;
}

Result<Suggestion> suggestionTaken(const FoundCuts& found, int take)
{
    const int count = static_cast<int>(found.ways.size());
    if (take < 1 || take > count)
        return Problem{Reason::BadArgument,
                       count == 1 ? std::string("only one way of cutting was found")
                                  : fmt::format("only {} ways of cutting were found", count),
                       {},
                       fmt::format("way {}", take),
                       "Take one of these, or give the search more time."};
    Suggestion out = found.ways[static_cast<std::size_t>(take - 1)].suggestion;
    for (int i = 0; i < count; ++i)
        if (i != take - 1)
            out.others.push_back(found.ways[static_cast<std::size_t>(i)].suggestion);
    return out;
}

std::string wayWords(const CutWay& way)
{
    const Suggestion& s = way.suggestion;
    const int gap = way.terms.gap();
    std::string out = fmt::format("{} {}; no way needs fewer than {} ({})", s.pieces,
                                  s.pieces == 1 ? "piece" : "pieces", s.bound.pieces, s.bound.reason);
    out += gap == 0 ? ": none has fewer" : fmt::format(": at most {} too many", gap);
    out += fmt::format("; weighed sum {:.2f}", weighed(way.terms.judged.total, way.terms.weights));
    return out + fmt::format("; found after {:.1f} s, seed {}", s.seconds, s.seed);
}

} // namespace quoin::core
