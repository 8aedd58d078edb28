// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/print_plan.h"

#include <string>
#include <vector>

/// Calendars that others read (iCalendar, RFC 5545).
namespace quoin::core {

struct CalendarEvent {
    std::string uid; ///< the same for the same thing in a later file, so that it replaces it (3.8.4.7)
    Moment start{}, end{};
    std::string summary, description;
    bool busy = true;      ///< somebody has to be there (3.8.2.7: OPAQUE)
    int alarmMinutes = -1; ///< before the start; negative: none
};

/// A VCALENDAR of VEVENTs in floating local time (3.3.5, form 1): it is what the shop's clock shows. Lines end in CRLF
/// and are folded at 75 octets, no character split (3.1); texts are escaped (3.3.11), control characters left out.
/// @param stampUtc  DTSTAMP of all, "2026-12-01T08:00:00Z" as core/state_folder.h's timeStamp gives it
std::string calendarText(const std::vector<CalendarEvent>& events, const std::string& name,
                         const std::string& stampUtc);

/// Of a plan: each print, each time somebody has to be there to change a plate, spools that run out, the deadline.
std::vector<CalendarEvent> calendarEvents(const PrintPlan& plan, const std::string& name);

} // namespace quoin::core
