// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/same_word.h"
#include "core/work_calendar.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <charconv>
#include <optional>

namespace quoin::core {

namespace {

constexpr std::array<const char*, 7> dayNames{"mon", "tue", "wed", "thu", "fri", "sat", "sun"};
constexpr std::array<const char*, 7> dayWords{"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"};
constexpr std::array<const char*, 12> monthWords{"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                                 "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
constexpr int dayMinutes = 24 * 60;
constexpr int firstYear = 1970, lastYear = 9000;

std::optional<int> numberIn(std::string_view text)
{
    int value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (text.empty() || error != std::errc{} || end != text.data() + text.size() || text.front() == '-')
        return std::nullopt;
    return value;
}

/// "8", "8:30" or "24" as minutes of the day.
std::optional<int> clockIn(std::string_view text)
{
    const std::size_t colon = text.find(':');
    const auto hour = numberIn(text.substr(0, colon));
    const auto minute = colon == std::string_view::npos ? std::optional(0) : numberIn(text.substr(colon + 1));
    if (!hour || !minute || *minute > 59 || *hour * 60 + *minute > dayMinutes || *hour > 24)
        return std::nullopt;
    return *hour * 60 + *minute;
}

std::optional<std::size_t> dayIn(std::string_view text)
{
    for (std::size_t d = 0; d < dayNames.size(); ++d)
        if (text.size() >= 3 && sameWord(text.substr(0, 3), dayNames[d]))
            return d;
    return std::nullopt;
}

std::vector<std::string_view> words(std::string_view text, std::string_view apart)
{
    std::vector<std::string_view> out;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find_first_of(apart), text.size());
        if (end > 0)
            out.push_back(text.substr(0, end));
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return out;
}

Problem unread(std::string_view what, std::string_view kind, std::string_view example)
{
    return {Reason::BadArgument, fmt::format("\"{}\" is no {}", what, kind), {}, {}, fmt::format("Write {}.", example)};
}

constexpr const char* hoursExample = "hours attended like \"mon-fri 8-18, sat 9:30-12 14-17\", or \"always\"";

/// One group: "mon-fri 8-18 20-22".
Status addGroup(std::string_view group, std::array<std::vector<Attended>, 7>& days)
{
    std::vector<std::size_t> chosen;
    bool hours = false;
    for (const std::string_view word : words(group, " \t")) {
        const std::size_t dash = word.find('-');
        const std::string_view left = word.substr(0, dash);
        const std::string_view right = dash == std::string_view::npos ? left : word.substr(dash + 1);
        if (!word.empty() && std::isalpha(static_cast<unsigned char>(word.front())) != 0) {
            const auto first = dayIn(left), last = dayIn(right);
            if (!first || !last || hours)
                return unread(word, "day of the week", hoursExample);
            for (std::size_t d = *first;; d = (d + 1) % 7) {
                chosen.push_back(d);
                if (d == *last)
                    break;
            }
            continue;
        }
        const auto from = clockIn(left), to = clockIn(right);
        if (dash == std::string_view::npos || !from || !to || *from >= *to || chosen.empty())
            return unread(word, "span of hours after days", hoursExample);
        for (const std::size_t d : chosen)
            days[d].push_back({*from, *to});
        hours = true;
    }
    return hours ? Status(Done{}) : unread(group, "group of days with hours", hoursExample);
}

std::string clockText(int minute)
{
    return minute % 60 == 0 ? fmt::format("{}", minute / 60) : fmt::format("{}:{:02}", minute / 60, minute % 60);
}

} // namespace

Result<Moment> momentFromText(std::string_view text)
{
    const auto wrong = [&] { return unread(text, "date and time", "one like \"2026-12-01 08:30\""); };
    const bool hasTime = text.size() == 16 && (text[10] == ' ' || text[10] == 'T') && text[13] == ':';
    if ((text.size() != 10 && !hasTime) || text[4] != '-' || text[7] != '-')
        return wrong();
    const auto y = numberIn(text.substr(0, 4)), m = numberIn(text.substr(5, 2)), d = numberIn(text.substr(8, 2));
    const auto hour = hasTime ? numberIn(text.substr(11, 2)) : std::optional(0);
    const auto minute = hasTime ? numberIn(text.substr(14, 2)) : std::optional(0);
    if (!y || !m || !d || !hour || !minute || *hour > 23 || *minute > 59 || *y < firstYear || *y > lastYear)
        return wrong();
    const std::chrono::year_month_day date{std::chrono::year(*y), std::chrono::month(static_cast<unsigned>(*m)),
                                           std::chrono::day(static_cast<unsigned>(*d))};
    if (!date.ok())
        return wrong();
    return Moment(std::chrono::local_days(date)) + Minutes(*hour * 60 + *minute);
}

std::string momentText(Moment moment)
{
    const auto day = std::chrono::floor<std::chrono::days>(moment);
    const std::chrono::year_month_day date(day);
    const auto minutes = (moment - Moment(day)).count();
    return fmt::format("{:04}-{:02}-{:02} {:02}:{:02}", static_cast<int>(date.year()),
                       static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()), minutes / 60,
                       minutes % 60);
}

std::string momentWords(Moment moment)
{
    const auto day = std::chrono::floor<std::chrono::days>(moment);
    const std::chrono::year_month_day date(day);
    const auto minutes = (moment - Moment(day)).count();
    return fmt::format("{} {} {} {:02}:{:02}", dayWords[std::chrono::weekday(day).iso_encoding() - 1],
                       static_cast<unsigned>(date.day()), monthWords[static_cast<unsigned>(date.month()) - 1],
                       minutes / 60, minutes % 60);
}

double hoursBetween(Moment from, Moment to)
{
    return static_cast<double>((to - from).count()) / 60;
}

Result<std::array<std::vector<Attended>, 7>> attendedFromText(std::string_view text)
{
    if (sameWord(text, "always") || text == "24/7")
        return WorkCalendar::always().days;
    std::array<std::vector<Attended>, 7> days;
    for (const std::string_view group : words(text, ",;"))
        if (const Status s = addGroup(group, days); !s)
            return s.problem();
    for (auto& day : days)
        std::sort(day.begin(), day.end(),
                  [](const Attended& a, const Attended& b) { return a.fromMinute < b.fromMinute; });
    WorkCalendar calendar;
    calendar.days = days;
    if (const Status s = checkCalendar(calendar); !s)
        return s.problem();
    return days;
}

std::string attendedText(const std::array<std::vector<Attended>, 7>& days)
{
    if (days == WorkCalendar::always().days)
        return "always";
    std::string out;
    for (std::size_t d = 0; d < days.size();) {
        std::size_t last = d;
        while (last + 1 < days.size() && days[last + 1] == days[d])
            ++last;
        if (!days[d].empty()) {
            out += fmt::format("{}{}", out.empty() ? "" : ", ", dayNames[d]);
            if (last > d)
                out += fmt::format("-{}", dayNames[last]);
            for (const Attended& a : days[d])
                out += fmt::format(" {}-{}", clockText(a.fromMinute), clockText(a.toMinute));
        }
        d = last + 1;
    }
    return out;
}

} // namespace quoin::core
