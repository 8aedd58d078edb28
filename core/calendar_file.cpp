// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/calendar_file.h"

#include "core/file_hash.h"

#include <fmt/format.h>

#include <algorithm>

namespace quoin::core {

namespace {

constexpr std::size_t mostOctets = 75; ///< of a line, its end not counted (RFC 5545, 3.1)
constexpr int bellMinutes = 10;

/// "20261201T082000".
std::string dateTime(Moment moment)
{
    std::string out;
    for (const char c : momentText(moment))
        if (c != '-' && c != ':')
            out += c == ' ' ? 'T' : c;
    return out + "00";
}

std::string stampOf(const std::string& utc)
{
    std::string out;
    for (const char c : utc)
        if (c != '-' && c != ':')
            out += c;
    return out;
}

/// TEXT (3.3.11).
std::string escaped(const std::string& text)
{
    std::string out;
    for (const char c : text)
        if (c == '\\' || c == ';' || c == ',')
            out += std::string("\\") + c;
        else if (c == '\n')
            out += "\\n";
        else if (static_cast<unsigned char>(c) >= ' ' && c != '\x7f')
            out += c;
    return out;
}

/// A content line, folded: a line goes on after CRLF and a blank.
std::string folded(const std::string& line)
{
    std::string out;
    std::size_t at = 0, room = mostOctets;
    while (line.size() - at > room) {
        std::size_t end = at + room;
        while (end > at + 1 && (static_cast<unsigned char>(line[end]) & 0xC0) == 0x80)
            --end; // inside a character of UTF-8
        out += line.substr(at, end - at) + "\r\n ";
        at = end;
        room = mostOctets - 1;
    }
    return out + line.substr(at) + "\r\n";
}

std::string uidOf(const std::string& what, const std::string& name)
{
    Sha256 hash;
    hash.add(name + "\n" + what);
    return hash.hex().substr(0, 32) + "@quoin";
}

std::string eventText(const CalendarEvent& e, const std::string& stamp)
{
    std::string out = "BEGIN:VEVENT\r\n";
    out += folded("UID:" + escaped(e.uid));
    out += folded("DTSTAMP:" + stamp);
    out += folded("DTSTART:" + dateTime(e.start));
    if (e.end > e.start)
        out += folded("DTEND:" + dateTime(e.end)); // later than the start, or not there (3.8.2.2)
    out += folded("SUMMARY:" + escaped(e.summary));
    if (!e.description.empty())
        out += folded("DESCRIPTION:" + escaped(e.description));
    out += e.busy ? "TRANSP:OPAQUE\r\n" : "TRANSP:TRANSPARENT\r\n";
    if (e.alarmMinutes >= 0) {
        out += "BEGIN:VALARM\r\nACTION:DISPLAY\r\n";
        out += folded("DESCRIPTION:" + escaped(e.summary));
        out += fmt::format("TRIGGER:-PT{}M\r\n", e.alarmMinutes);
        out += "END:VALARM\r\n";
    }
    return out + "END:VEVENT\r\n";
}

} // namespace

std::string calendarText(const std::vector<CalendarEvent>& events, const std::string& name, const std::string& stampUtc)
{
    const std::string stamp = stampOf(stampUtc);
    std::string out = "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//Quoin//Print plan//EN\r\nCALSCALE:GREGORIAN\r\n";
    out += folded("X-WR-CALNAME:" + escaped(name));
    for (const CalendarEvent& e : events)
        out += eventText(e, stamp);
    return out + "END:VCALENDAR\r\n";
}

std::vector<CalendarEvent> calendarEvents(const PrintPlan& plan, const std::string& name)
{
    std::vector<CalendarEvent> out;
    for (const PlanBar& b : plan.bars) {
        const Plate& plate = plan.plates[b.plate];
        const std::string& machine = plan.request.machines[b.machine].name;
        std::string pieces;
        for (const PlatePiece& p : plate.pieces)
            pieces += plan.job.pieces[p.piece].name + "\n";
        const std::string key = plan.job.pieces[plate.pieces.front().piece].id;
        const std::string what = plate.pieces.size() == 1 ? plan.job.pieces[plate.pieces.front().piece].name
                                                          : fmt::format("{} pieces", plate.pieces.size());
        out.push_back({uidOf("print " + key, name), b.start, b.end,
                       fmt::format("{} prints plate {} ({})", machine, plate.number, what),
                       fmt::format("{}{} with {}; {:.1f} h, {:.0f} g.\n{}", pieces, plate.material, plate.recipe,
                                   b.hours, b.grams, plan.cautions.empty() ? "" : plan.cautions.front()),
                       false, -1});
        out.push_back({uidOf("begin " + key, name), b.change, b.start,
                       fmt::format("Begin plate {} on {}", plate.number, machine),
                       fmt::format("Clear the plate, put on {}, begin: {}", plate.material, what), true, bellMinutes});
    }
    for (const SpoolChange& c : plan.spoolChanges)
        if (!c.beforeStart) {
            const Plate& plate = plan.plates[plan.bars[c.bar].plate];
            out.push_back(
                {uidOf(fmt::format("spool {} {}", plan.job.pieces[plate.pieces.front().piece].id, momentText(c.at)),
                       name),
                 c.at, c.at + Minutes(10), fmt::format("New spool on {}", plan.request.machines[c.machine].name),
                 c.words, true, bellMinutes});
        }
    for (const SpoolNeed& need : plan.spools)
        if (need.shortFrom)
            out.push_back({uidOf("buy " + need.material, name), *need.shortFrom, *need.shortFrom,
                           fmt::format("{} spools of {} must be there", need.buySpools, need.material), need.words,
                           false, 3 * 24 * 60});
    if (plan.request.deadline)
        out.push_back({uidOf("deadline", name), *plan.request.deadline, *plan.request.deadline, "Deadline: " + name,
                       plan.verdict, false, -1});
    return out;
}

} // namespace quoin::core
