// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/result.h"

#include <array>
#include <chrono>
#include <string>
#include <string_view>
#include <vector>

/// Hours of the shop: when somebody is there, and when a machine may be hot.
namespace quoin::core {

/// Civil time where the machines stand, to the minute. No zone and no summer time: on the two days of a year on which
/// clocks are changed, what is planned over the night is an hour out.
using Minutes = std::chrono::minutes;
using Moment = std::chrono::local_time<Minutes>;

/// "2026-12-01 08:30", "2026-12-01T08:30", or "2026-12-01" (midnight at its beginning). BadArgument.
Result<Moment> momentFromText(std::string_view text);
/// "2026-12-01 08:30".
std::string momentText(Moment moment);
/// "Tue 1 Dec 08:30", for people.
std::string momentWords(Moment moment);
/// Hours between two moments.
double hoursBetween(Moment from, Moment to);

/// Somebody is there from one minute of the day to another; 0 to 1440.
struct Attended {
    int fromMinute = 0;
    int toMinute = 0;
    friend bool operator==(const Attended&, const Attended&) = default;
};

/// When a machine is attended, and whether it may run when it is not.
struct WorkCalendar {
    std::array<std::vector<Attended>, 7> days; ///< Monday first; rising, none touching
    bool nights = true;                        ///< may run unattended from Monday to Friday
    bool weekends = true;                      ///< may run unattended on Saturdays and Sundays
    std::vector<std::chrono::local_days> away; ///< days on which nobody is there
    friend bool operator==(const WorkCalendar&, const WorkCalendar&) = default;

    static WorkCalendar always();
    /// Monday to Friday, such as 8 to 18 o'clock.
    static WorkCalendar working(int fromHour, int toHour);
};

/// The hours attended of a week, as people type them: "mon-fri 8-18, sat 9:30-12 14-17"; "always" or "24/7". Days left
/// out have none. BadArgument with the words that can't be read.
Result<std::array<std::vector<Attended>, 7>> attendedFromText(std::string_view text);
/// The same, shortest: "mon-fri 8-18, sat 9:30-12 14-17".
std::string attendedText(const std::array<std::vector<Attended>, 7>& days);

/// Whether a calendar can be used: hours within the day, rising, somebody there at some time. BadArgument.
Status checkCalendar(const WorkCalendar& calendar);

/// A calendar laid out from a day on, so that questions are quick. Minutes count from `epoch`, the midnight that begins
/// the first day. Nothing can be started after the last day, three years on.
class WorkTime {
public:
    static constexpr int daysAhead = 1100;

    WorkTime(const WorkCalendar& calendar, Moment start);

    Moment epoch() const { return m_epoch; }
    long minuteOf(Moment moment) const { return (moment - m_epoch).count(); }
    Moment momentOf(long minute) const { return m_epoch + Minutes(minute); }

    bool attended(long minute) const; ///< the last minute of the hours counts, too
    /// The first attended minute from here on; -1 when there is none any more.
    long nextAttended(long minute) const;
    /// Minutes between two in which the machine may be hot.
    long mayRunMinutes(long from, long to) const;

    /// One print: started by somebody, run in one go, taken off when somebody is there.
    struct Run {
        long change = -1; ///< changing the plate begins; negative: it can't be printed on this machine
        long start = -1;  ///< hot from here
        long end = -1;    ///< to here
        long ready = -1;  ///< somebody is there to take it off; the machine is free
        bool ok() const { return change >= 0; }
    };
    /// The earliest run of a machine that is free from a minute on: the plate is changed within the attended hours, the
    /// print begins within them and ends while the machine may still be hot. A print that would end while nobody is
    /// there is begun later in the same hours when it then ends just as somebody comes, which costs nothing: it would
    /// not be taken off any sooner.
    Run runFrom(long free, long changeMinutes, long printMinutes) const;
    /// The longest print that can ever be run, in minutes; -1 for no limit within the days ahead.
    long longestRun() const;
    /// Mean time from the end of a print, at any time of the week, until somebody is there, in hours.
    double meanWaitHours() const;

private:
    struct Span {
        long from, to;
    };
    static void addSpan(std::vector<Span>& spans, long from, long to);
    void addDay(const WorkCalendar& calendar, std::chrono::local_days day, long from);

    Moment m_epoch;
    std::vector<Span> m_attended; ///< rising, apart
    std::vector<Span> m_mayRun;   ///< rising, apart; each attended span lies within one of them
    std::vector<long> m_before;   ///< minutes of m_mayRun before each span
};

} // namespace quoin::core
