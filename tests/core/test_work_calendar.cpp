// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/work_calendar.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace quoin;
using namespace quoin::core;

namespace {

Moment at(const char* text)
{
    const auto m = momentFromText(text);
    REQUIRE(m);
    return *m;
}

WorkCalendar calendarOf(const char* hours, bool nights, bool weekends)
{
    WorkCalendar c;
    const auto days = attendedFromText(hours);
    REQUIRE(days);
    c.days = *days;
    c.nights = nights;
    c.weekends = weekends;
    return c;
}

struct Times {
    std::string change, start, end, ready;
};

Times runAt(const WorkTime& time, const char* free, long change, double hours)
{
    const auto run = time.runFrom(time.minuteOf(at(free)), change, std::lround(hours * 60));
    if (!run.ok())
        return {};
    const auto text = [&](long minute) { return momentText(time.momentOf(minute)); };
    return {text(run.change), text(run.start), text(run.end), text(run.ready)};
}

} // namespace

TEST_CASE("work calendar: moments as text")
{
    CHECK(momentText(at("2026-12-01 08:30")) == "2026-12-01 08:30");
    CHECK(momentText(at("2026-12-01T08:30")) == "2026-12-01 08:30");
    CHECK(momentText(at("2028-02-29")) == "2028-02-29 00:00"); // a leap year (Gregorian rule)
    // 1 December 2026 is a Tuesday (ISO 8601 week 49).
    CHECK(momentWords(at("2026-12-01 08:05")) == "Tue 1 Dec 08:05");
    CHECK(hoursBetween(at("2026-02-28 12:00"), at("2026-03-01 06:00")) == 18);
    for (const char* wrong :
         {"", "2026", "2026-13-01", "2026-02-30", "2100-02-29", "2026-12-01 24:00", "2026-12-01 08:60",
          "2026-12-01 8:30", "2026/12/01", "2026-12-01x08:30", "-026-12-01", "2026-12--1"}) {
        INFO(wrong);
        CHECK_FALSE(momentFromText(wrong));
    }
}

TEST_CASE("work calendar: hours of the week as text")
{
    CHECK(attendedText(calendarOf("mon-fri 8-18, sat 9:30-12 14-17", true, true).days) ==
          "mon-fri 8-18, sat 9:30-12 14-17");
    CHECK(attendedText(calendarOf("always", true, true).days) == "always");
    CHECK(attendedText(calendarOf("Monday-wednesday 7-9, fri 7-9", true, true).days) == "mon-wed 7-9, fri 7-9");
    CHECK(attendedText(calendarOf("sat-mon 8-12", true, true).days) == "mon 8-12, sat-sun 8-12"); // over the end
    CHECK(attendedText(calendarOf("mon tue 8-12", true, true).days) == "mon-tue 8-12");
    for (const char* wrong : {"", "mon", "8-12", "mon 12-8", "mon 8-25", "mon 8-12 10-14", "mun 8-12", "mon 8-12 tue",
                              "mon 8:75-12", "mon 8-12, mon 12-14", "mon 8--12"}) {
        INFO(wrong);
        CHECK_FALSE(attendedFromText(wrong));
    }
}

TEST_CASE("work calendar: prints begin when somebody is there")
{
    const WorkTime time(calendarOf("mon-fri 8-18", true, true), at("2026-11-30 09:00")); // a Monday
    // Short: begun at once, the change first.
    Times t = runAt(time, "2026-11-30 09:00", 20, 3);
    CHECK(t.change == "2026-11-30 09:00");
    CHECK(t.start == "2026-11-30 09:20");
    CHECK(t.end == "2026-11-30 12:20");
    CHECK(t.ready == t.end);
    // The machine is free at night: from 8 on.
    CHECK(runAt(time, "2026-12-01 03:00", 20, 3).start == "2026-12-01 08:20");
    // Too late to change it today.
    CHECK(runAt(time, "2026-11-30 17:41", 20, 3).start == "2026-12-01 08:20");
    CHECK(runAt(time, "2026-11-30 17:40", 20, 3).start == "2026-11-30 18:00");
    // Ends in the night: begun later in the same hours when it then ends as somebody comes, 17:30 + 14.5 h = 8:00.
    t = runAt(time, "2026-11-30 15:00", 20, 14.5);
    CHECK(t.start == "2026-11-30 17:30");
    CHECK(t.end == "2026-12-01 08:00");
    CHECK(t.change == "2026-11-30 17:10");
    // 18:00 + 10 h = 4:00: begun at once, taken off at 8.
    t = runAt(time, "2026-11-30 15:00", 20, 10);
    CHECK(t.start == "2026-11-30 15:20");
    CHECK(t.end == "2026-12-01 01:20");
    CHECK(t.ready == "2026-12-01 08:00");
    // Over the weekend.
    CHECK(runAt(time, "2026-12-04 15:00", 20, 30).ready == "2026-12-07 08:00");
    CHECK(runAt(time, "2026-12-05 10:00", 20, 1).start == "2026-12-07 08:20");
}

TEST_CASE("work calendar: no nights, no weekends, days away")
{
    const WorkTime noNights(calendarOf("mon-fri 8-18", false, false), at("2026-11-30"));
    CHECK(runAt(noNights, "2026-11-30 09:00", 20, 8).end == "2026-11-30 17:20");
    CHECK(runAt(noNights, "2026-11-30 10:00", 20, 8).start == "2026-12-01 08:20");
    CHECK(runAt(noNights, "2026-11-30 10:00", 20, 9.7).start == "");
    CHECK(noNights.longestRun() == 600);
    // Nights but no weekends: Friday's print has to end by midnight.
    const WorkTime noWeekends(calendarOf("mon-fri 8-18", true, false), at("2026-11-30"));
    CHECK(runAt(noWeekends, "2026-12-04 15:00", 20, 8).start == "2026-12-04 15:20");
    CHECK(runAt(noWeekends, "2026-12-04 15:00", 20, 9).start == "2026-12-07 08:20");
    // Somebody there on Saturday: it may run then, all the same.
    const WorkTime saturday(calendarOf("mon-fri 8-18, sat 9-12", false, false), at("2026-11-30"));
    CHECK(runAt(saturday, "2026-12-04 18:00", 20, 2.5).end == "2026-12-05 11:50");
    WorkCalendar away = calendarOf("mon-fri 8-18", true, true);
    away.away = {std::chrono::local_days(std::chrono::year(2026) / 12 / 1)};
    const WorkTime time(away, at("2026-11-30"));
    CHECK(runAt(time, "2026-11-30 18:00", 20, 2).start == "2026-12-02 08:20");
}

TEST_CASE("work calendar: minutes and waits in closed form")
{
    const WorkTime noNights(calendarOf("mon-fri 8-18", false, false), at("2026-11-30"));
    const auto week = 7L * 24 * 60;
    CHECK(noNights.mayRunMinutes(0, week) == 5 * 600);
    CHECK(noNights.mayRunMinutes(9 * 60, 10 * 60) == 60);
    CHECK(noNights.mayRunMinutes(0, 8 * 60 + 1) == 1);
    CHECK(noNights.mayRunMinutes(600, 600) == 0);
    CHECK(WorkTime(WorkCalendar::always(), at("2026-11-30")).meanWaitHours() == 0);
    // Each day 12 h there and 12 h not: half of all ends wait 6 h on average.
    CHECK(WorkTime(calendarOf("mon-sun 8-20", true, true), at("2026-11-30")).meanWaitHours() ==
          Approx(3).epsilon(0.02));
    CHECK(WorkTime(WorkCalendar::always(), at("2026-11-30")).longestRun() == -1);
}
