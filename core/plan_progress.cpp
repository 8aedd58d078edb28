// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/plan_progress.h"

#include "core/same_word.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace quoin::core {

namespace {

constexpr std::array states{PieceState::Planned, PieceState::Printing, PieceState::Printed, PieceState::Failed};
constexpr double mostGrams = 1e6, mostHours = 1e4;

} // namespace

std::string stateName(PieceState state)
{
    switch (state) {
    case PieceState::Planned:
        return "planned";
    case PieceState::Printing:
        return "printing";
    case PieceState::Printed:
        return "printed";
    case PieceState::Failed:
        return "failed";
    }
    return {};
}

Result<PieceState> stateFromText(std::string_view text)
{
    for (const PieceState s : states)
        if (sameWord(text, stateName(s)))
            return s;
    return Problem{Reason::BadArgument,
                   fmt::format("\"{}\" is no state of a piece", text),
                   {},
                   {},
                   "Known are planned, printing, printed and failed."};
}

const PieceReport* PlanProgress::last(std::string_view piece) const
{
    const auto at =
        std::find_if(reports.rbegin(), reports.rend(), [&](const PieceReport& r) { return r.piece == piece; });
    return at != reports.rend() ? &*at : nullptr;
}

PieceState PlanProgress::stateOf(std::string_view piece) const
{
    const PieceReport* report = last(piece);
    return report != nullptr ? report->state : PieceState::Planned;
}

int PlanProgress::failures(std::string_view piece) const
{
    return static_cast<int>(std::count_if(reports.begin(), reports.end(), [&](const PieceReport& r) {
        return r.piece == piece && r.state == PieceState::Failed;
    }));
}

Result<PlanProgress> withReport(const PlanProgress& progress, const PieceReport& report)
{
    const auto within = [](const std::optional<double>& v, double most) { return !v || (*v >= 0 && *v <= most); };
    if (!within(report.grams, mostGrams) || !within(report.hours, mostHours))
        return Problem{Reason::BadArgument,
                       fmt::format("the grams or hours of {} can't be right", report.piece),
                       {},
                       {},
                       fmt::format("Give 0 to {:g} g and 0 to {:g} h.", mostGrams, mostHours)};
    if (report.state == PieceState::Printing && report.machine.empty())
        return Problem{Reason::BadArgument,
                       fmt::format("it isn't said which machine prints {}", report.piece),
                       {},
                       {},
                       "Name the machine."};
    PlanProgress out = progress;
    out.reports.push_back(report);
    return out;
}

} // namespace quoin::core
