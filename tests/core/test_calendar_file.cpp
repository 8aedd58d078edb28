// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/calendar_file.h"
#include "tests/support/shop.h"

#include <catch2/catch.hpp>

#include <set>
#include <sstream>

using namespace quoin;
using namespace quoin::core;

namespace {

constexpr const char* stamp = "2026-11-29T08:00:00Z";

/// The content lines of RFC 5545: split at CRLF, then unfolded (CRLF and one blank go).
std::vector<std::string> contentLines(const std::string& text)
{
    std::vector<std::string> lines;
    std::size_t at = 0;
    while (at < text.size()) {
        const std::size_t end = text.find("\r\n", at);
        REQUIRE(end != std::string::npos);
        const std::string line = text.substr(at, end - at);
        CHECK(line.size() <= 75); // octets (3.1)
        CHECK(line.find('\n') == std::string::npos);
        CHECK(line.find('\r') == std::string::npos);
        if (!line.empty() && line[0] == ' ')
            lines.back() += line.substr(1);
        else
            lines.push_back(line);
        at = end + 2;
    }
    return lines;
}

bool isUtf8Start(char c)
{
    return (static_cast<unsigned char>(c) & 0xC0) != 0x80;
}

} // namespace

TEST_CASE("calendar file: the rules of RFC 5545")
{
    CalendarEvent e;
    e.uid = "one@quoin";
    e.start = test::moment("2026-12-01 08:20");
    e.end = test::moment("2026-12-01 18:05");
    e.summary = "Plate 1; neck, head\\beak";
    e.description =
        "first line\nsecond line, with a long tail that has to be folded because no line may be longer than "
        "seventy-five octets, not even one of \u00e4\u00f6\u00fc\u00e4\u00f6\u00fc\u00e4\u00f6\u00fc"
        "\u00e4\u00f6\u00fc\u00e4\u00f6\u00fc\u00e4\u00f6\u00fc\u00e4\u00f6\u00fc\u00e4\u00f6\u00fc\x07";
    const std::string text = calendarText({e}, "heron", stamp);
    // No character is split by folding: each line begins with the start of one.
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);)
        CHECK(isUtf8Start(line[line[0] == ' ' ? 1 : 0]));
    const auto lines = contentLines(text);
    const std::vector<std::string> wanted{"BEGIN:VCALENDAR",
                                          "VERSION:2.0",
                                          "PRODID:-//Quoin//Print plan//EN",
                                          "CALSCALE:GREGORIAN",
                                          "X-WR-CALNAME:heron",
                                          "BEGIN:VEVENT",
                                          "UID:one@quoin",
                                          "DTSTAMP:20261129T080000Z",
                                          "DTSTART:20261201T082000",
                                          "DTEND:20261201T180500",
                                          "SUMMARY:Plate 1\\; neck\\, head\\\\beak"};
    for (std::size_t i = 0; i < wanted.size(); ++i)
        CHECK(lines[i] == wanted[i]);
    CHECK(lines[11].find("DESCRIPTION:first line\\nsecond line\\, with a ") == 0);
    CHECK(lines[11].find('\x07') == std::string::npos);
    CHECK(lines.back() == "END:VCALENDAR");
    // Without an end: a moment (3.6.1).
    e.end = e.start;
    CHECK(calendarText({e}, "heron", stamp).find("DTEND") == std::string::npos);
    e.alarmMinutes = 10;
    CHECK(calendarText({e}, "heron", stamp).find("ACTION:DISPLAY\r\nDESCRIPTION:") != std::string::npos);
}

TEST_CASE("calendar file: a plan's events, the same names when it is made again")
{
    PlanRequest r = test::request();
    const PlateJob job = test::slabs({{12, 250, 250}, {30, 250, 250}, {5, 100, 100}});
    const auto plan = planPrinting(job, r);
    REQUIRE(plan);
    const auto events = calendarEvents(*plan, "heron");
    std::set<std::string> uids;
    std::size_t busy = 0;
    for (const CalendarEvent& e : events) {
        CHECK(uids.insert(e.uid).second);
        CHECK(e.end >= e.start);
        busy += e.busy ? 1 : 0;
    }
    CHECK(busy >= plan->bars.size());
    r.start += Minutes(24 * 60);
    const auto later = planPrinting(job, r);
    REQUIRE(later);
    for (const CalendarEvent& e : calendarEvents(*later, "heron"))
        if (e.summary.find("prints") != std::string::npos)
            CHECK(uids.contains(e.uid));
    CHECK(calendarEvents(*plan, "stork").front().uid != events.front().uid);
}
