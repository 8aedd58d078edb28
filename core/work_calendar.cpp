// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/work_calendar.h"

#include <fmt/format.h>

#include <algorithm>

namespace quoin::core {

namespace {

constexpr int dayMinutes = 24 * 60;

} // namespace

WorkCalendar WorkCalendar::always()
{
    WorkCalendar calendar;
    calendar.days.fill({{0, dayMinutes}});
    return calendar;
}

WorkCalendar WorkCalendar::working(int fromHour, int toHour)
{
    WorkCalendar calendar;
    for (std::size_t day = 0; day < 5; ++day)
        calendar.days[day] = {{fromHour * 60, toHour * 60}};
    return calendar;
}

Status checkCalendar(const WorkCalendar& calendar)
{
    const auto refused = [](const std::string& what) {
        return Problem{Reason::BadArgument, what, {}, {}, "Hours attended look like \"mon-fri 8-18, sat 9:30-12\"."};
    };
    bool any = false;
    for (const auto& day : calendar.days) {
        int last = -1;
        for (const Attended& a : day) {
            if (a.fromMinute < 0 || a.toMinute > dayMinutes || a.fromMinute >= a.toMinute)
                return refused("hours attended must lie within a day and end after they begin");
            if (a.fromMinute <= last)
                return refused("hours attended on one day must not touch or overlap");
            last = a.toMinute;
            any = true;
        }
    }
    return any ? Status(Done{}) : refused("nobody is ever there, so that nothing can be started");
}

void WorkTime::addSpan(std::vector<Span>& spans, long from, long to)
{
    if (from >= to)
        return;
    if (!spans.empty() && spans.back().to >= from)
        spans.back().to = std::max(spans.back().to, to);
    else
        spans.push_back({from, to});
}

void WorkTime::addDay(const WorkCalendar& calendar, std::chrono::local_days day, long from)
{
    const unsigned weekday = std::chrono::weekday(day).iso_encoding() - 1; // Monday 0
    const bool unattended = weekday >= 5 ? calendar.weekends : calendar.nights;
    const bool away = std::find(calendar.away.begin(), calendar.away.end(), day) != calendar.away.end();
    if (unattended)
        addSpan(m_mayRun, from, from + dayMinutes);
    if (away)
        return;
    for (const Attended& a : calendar.days[weekday]) {
        addSpan(m_attended, from + a.fromMinute, from + a.toMinute);
        if (!unattended)
            addSpan(m_mayRun, from + a.fromMinute, from + a.toMinute);
    }
}

WorkTime::WorkTime(const WorkCalendar& calendar, Moment start)
{
    const auto firstDay = std::chrono::floor<std::chrono::days>(start);
    m_epoch = Moment(firstDay);
    for (int d = 0; d < daysAhead; ++d)
        addDay(calendar, firstDay + std::chrono::days(d), static_cast<long>(d) * dayMinutes);
    long before = 0;
    for (const Span& s : m_mayRun) {
        m_before.push_back(before);
        before += s.to - s.from;
    }
}

bool WorkTime::attended(long minute) const
{
    return minute >= 0 && nextAttended(minute) == minute;
}

long WorkTime::nextAttended(long minute) const
{
    const auto span =
        std::lower_bound(m_attended.begin(), m_attended.end(), minute, [](const Span& s, long m) { return s.to < m; });
    return span == m_attended.end() ? -1 : std::max(span->from, minute);
}

long WorkTime::mayRunMinutes(long from, long to) const
{
    const auto until = [&](long minute) -> long {
        const auto next = std::upper_bound(m_mayRun.begin(), m_mayRun.end(), minute,
                                           [](long m, const Span& s) { return m < s.from; });
        if (next == m_mayRun.begin())
            return 0;
        const auto index = static_cast<std::size_t>(next - m_mayRun.begin()) - 1;
        return m_before[index] + std::min(minute, m_mayRun[index].to) - m_mayRun[index].from;
    };
    return to > from ? until(to) - until(from) : 0;
}

WorkTime::Run WorkTime::runFrom(long free, long changeMinutes, long printMinutes) const
{
    auto hours =
        std::lower_bound(m_attended.begin(), m_attended.end(), free, [](const Span& s, long m) { return s.to < m; });
    for (; hours != m_attended.end(); ++hours) {
        const long change = std::max(hours->from, free);
        const long start = change + changeMinutes;
        if (start > hours->to)
            continue;
        const auto hot = std::lower_bound(m_mayRun.begin(), m_mayRun.end(), hours->to,
                                          [](const Span& s, long m) { return s.to < m; });
        if (hot == m_mayRun.end() || start + printMinutes > hot->to)
            continue;
        const long ready = nextAttended(start + printMinutes);
        if (ready < 0)
            return {};
        // Ends as somebody comes, when that start is still within the hours.
        const long late = ready - printMinutes;
        if (late > start && late <= hours->to && ready <= hot->to)
            return {late - changeMinutes, late, ready, ready};
        return {change, start, start + printMinutes, ready};
    }
    return {};
}

long WorkTime::longestRun() const
{
    long longest = 0;
    for (const Span& hours : m_attended) {
        const auto hot = std::lower_bound(m_mayRun.begin(), m_mayRun.end(), hours.to,
                                          [](const Span& s, long m) { return s.to < m; });
        if (hot != m_mayRun.end())
            longest = std::max(longest, hot->to - hours.from);
        if (longest > 400L * dayMinutes)
            return -1; // runs through
    }
    return longest;
}

double WorkTime::meanWaitHours() const
{
    // Over whole weeks, days away left aside; a gap of g minutes makes g / 2 minutes of wait for g minutes of ends.
    const long weeks = 8L * 7 * dayMinutes;
    double wait = 0;
    long last = 0, hot = 0;
    for (const Span& s : m_attended) {
        if (s.from >= weeks)
            break;
        const double gap = static_cast<double>(mayRunMinutes(last, s.from));
        wait += gap * gap / 2;
        last = s.to;
    }
    hot = mayRunMinutes(0, std::min(last, weeks));
    return hot > 0 ? wait / static_cast<double>(hot) / 60 : 0;
}

} // namespace quoin::core
