// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/fit_coupon.h"

#include <fmt/format.h>

#include <algorithm>

namespace quoin::core {

namespace {

Problem refused(const std::string& what, const std::string& remedy)
{
    return {Reason::BadArgument, what, {}, {}, remedy};
}

/// The pairs that say something about a process. A bought rod is tried in the bores of the dowel.
bool covers(const CouponSheet& sheet, FitProcess process)
{
    switch (process) {
    case FitProcess::Dowel:
    case FitProcess::Rod:
        return sheet.has(CouponPair::Dowel);
    case FitProcess::Key:
        return sheet.has(CouponPair::Square) || sheet.has(CouponPair::DShape);
    case FitProcess::Thread:
        return sheet.has(CouponPair::Thread);
    }
    return false;
}

Status checkNumber(const CouponSheet& sheet, int number, const char* what)
{
    if (number >= 1 && number <= sheet.steps)
        return Done{};
    return refused(fmt::format("step {} ({}) is not on the coupon", number, what),
                   fmt::format("Its numbers go from 1 to {}.", sheet.steps));
}

/// @param tight, wide  what the two numbers were found to be
Status checkOrder(int tightNumber, const char* tight, int wideNumber, const char* wide)
{
    if (tightNumber < wideNumber)
        return Done{};
    return refused(fmt::format("step {} can't be {} when step {} is {}: a higher number is wider", tightNumber, tight,
                               wideNumber, wide),
                   "Try the gauge again from the wide end.");
}

Status checkAnswers(const CouponSheet& sheet, const CouponAnswers& a)
{
    if (!covers(sheet, a.process))
        return refused(fmt::format("this coupon says nothing about a {}", processWords(a.process)),
                       "Make a coupon with such a pair, or set the numbers themselves.");
    std::vector<std::pair<int, const char*>> found{{a.snug, "snug"}, {a.slid, "sliding"}};
    if (a.press)
        found.insert(found.begin(), {*a.press, "a press fit"});
    if (a.free)
        found.push_back({*a.free, "free"});
    for (const auto& [number, what] : found)
        if (const Status s = checkNumber(sheet, number, what); !s)
            return s;
    for (std::size_t i = 0; i + 1 < found.size(); ++i)
        if (const Status s = checkOrder(found[i].first, found[i].second, found[i + 1].first, found[i + 1].second); !s)
            return s;
    return Done{};
}

} // namespace

Result<FitRow> rowFromCoupon(const CouponSheet& sheet, const CouponAnswers& answers)
{
    if (const Status good = checkAnswers(sheet, answers); !good)
        return good.problem();
    FitRow row;
    row.material = sheet.material;
    row.machine = sheet.machine;
    row.process = answers.process;
    row.date = sheet.date;
    row.slidingMm = sheet.clearanceMm(answers.slid);
    row.snugMm = sheet.clearanceMm(answers.snug);
    // One step before the first is still a number: the step's worth tighter, if need be an interference.
    row.pressMm = sheet.clearanceMm(answers.press.value_or(answers.snug - 1));
    row.freeMm =
        answers.free ? sheet.clearanceMm(*answers.free) : row.slidingMm + std::max(freeOverSlidingMm, sheet.stepMm);
    row.source = fmt::format("coupon of {}: step {} slid, step {} was snug", sheet.date, answers.slid, answers.snug);
    if (answers.press)
        row.source += fmt::format(", step {} was a press fit", *answers.press);
    if (answers.free)
        row.source += fmt::format(", step {} was free", *answers.free);
    if (const Status good = checkFitRow(row); !good)
        return good.problem();
    return row;
}

} // namespace quoin::core
