// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/print_log.h"

#include "core/csv_text.h"
#include "core/own_file.h"
#include "core/same_word.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <optional>

namespace quoin::core {

namespace {

constexpr OwnFile fileKind{"quoin prints", 1, "log of prints", "prints", 100000};
constexpr std::size_t longestName = 200;
constexpr double anyNumber = 1e9;
constexpr double mostTimesOff = 20;

struct TextColumn {
    const char* key;
    std::string PrintedRow::*member;
};
struct NumberColumn {
    const char* key;
    double PrintedRow::*member;
};
constexpr std::array texts{TextColumn{"date", &PrintedRow::date}, TextColumn{"piece", &PrintedRow::piece},
                           TextColumn{"recipe", &PrintedRow::recipe}, TextColumn{"material", &PrintedRow::material},
                           TextColumn{"machine", &PrintedRow::machine}};
constexpr std::array numbers{NumberColumn{"model_g", &PrintedRow::modelGrams},
                             NumberColumn{"model_extrusion_h", &PrintedRow::modelExtrusionHours},
                             NumberColumn{"model_overhead_h", &PrintedRow::modelOverheadHours},
                             NumberColumn{"actual_g", &PrintedRow::actualGrams},
                             NumberColumn{"actual_h", &PrintedRow::actualHours}};

Problem refused(const std::string& what, const std::string& remedy)
{
    return {Reason::BadArgument, what, {}, {}, remedy};
}

/// Four digits, two, two, with hyphens.
bool isDay(std::string_view text)
{
    if (text.size() != 10 || text[4] != '-' || text[7] != '-')
        return false;
    for (const std::size_t i : {0, 1, 2, 3, 5, 6, 8, 9})
        if (text[i] < '0' || text[i] > '9')
            return false;
    const int month = (text[5] - '0') * 10 + text[6] - '0', day = (text[8] - '0') * 10 + text[9] - '0';
    return month >= 1 && month <= 12 && day >= 1 && day <= 31;
}

Status checkActual(const char* what, double actual, double model, const char* unit)
{
    if (!(actual >= 0) || !std::isfinite(actual))
        return refused(fmt::format("the actual {} of {:g} {} can't be", what, actual, unit),
                       "Give what it was, or 0 when it isn't known.");
    if (actual > 0 && !(actual < mostTimesOff * model && actual > model / mostTimesOff))
        return refused(fmt::format("the actual {} of {:g} {} is more than {:g} times off the modelled {:g} {}", what,
                                   actual, unit, mostTimesOff, model, unit),
                       "Grams and hours, please: check the units.");
    return Done{};
}

PrintedRow rowFrom(const JsonPlace& place)
{
    PrintedRow row;
    for (const TextColumn& c : texts)
        if (const auto text = place.maybe(c.key))
            row.*c.member = text->text(1000);
    for (const NumberColumn& c : numbers)
        row.*c.member = place.at(c.key).number(-anyNumber, anyNumber);
    if (const Status good = checkPrintedRow(row); !good)
        place.fail(good.problem().what);
    return row;
}

/// Which field of a line each column stands in.
struct Header {
    std::vector<std::pair<const char*, std::size_t>> places;

    std::optional<std::size_t> of(const char* key) const
    {
        for (const auto& [name, at] : places)
            if (std::string_view(name) == key)
                return at;
        return std::nullopt;
    }
};

Problem badCsv(std::size_t line, const std::string& column, const std::string& what)
{
    return {Reason::FileMalformed,
            what,
            {},
            column.empty() ? fmt::format("line {}", line) : fmt::format("line {}, column {}", line, column),
            "Correct it there; nothing was added. quoin log list --csv shows the columns."};
}

Result<Header> headerOf(const CsvLine& line)
{
    Header header;
    for (std::size_t i = 0; i < line.fields.size(); ++i) {
        for (const TextColumn& c : texts)
            if (sameWord(line.fields[i], c.key))
                header.places.emplace_back(c.key, i);
        for (const NumberColumn& c : numbers)
            if (sameWord(line.fields[i], c.key))
                header.places.emplace_back(c.key, i);
    }
    for (const NumberColumn& c : numbers)
        if (!header.of(c.key))
            return badCsv(line.number, c.key, "the log of prints needs this column");
    return header;
}

Result<PrintedRow> rowOf(const CsvLine& line, const Header& header)
{
    PrintedRow row;
    for (const TextColumn& c : texts)
        if (const auto at = header.of(c.key); at && *at < line.fields.size())
            row.*c.member = line.fields[*at];
    for (const NumberColumn& c : numbers) {
        const std::size_t at = *header.of(c.key);
        const std::string text = at < line.fields.size() ? line.fields[at] : std::string();
        double value = 0;
        const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
        if (!text.empty() && (error != std::errc() || end != text.data() + text.size()))
            return badCsv(line.number, c.key, fmt::format("\"{}\" is no number with a decimal point", text));
        row.*c.member = value;
    }
    if (const Status good = checkPrintedRow(row); !good)
        return badCsv(line.number, "", good.problem().what);
    return row;
}

} // namespace

Status checkPrintedRow(const PrintedRow& row)
{
    for (const TextColumn& c : texts)
        if (!isPlainText(row.*c.member, longestName))
            return refused(fmt::format("the {} of a print is too long or holds control characters", c.key),
                           fmt::format("Use at most {} plain characters.", longestName));
    if (!row.date.empty() && !isDay(row.date))
        return refused(fmt::format("\"{}\" is no day", row.date), "Write days as 2026-11-29.");
    for (const NumberColumn& c : {numbers[0], numbers[1]})
        if (!(row.*c.member > 0 && row.*c.member < 1e7))
            return refused(fmt::format("{} of {:g} can't be", c.key, row.*c.member),
                           "Take the modelled figures from the estimate of the print.");
    if (!(row.modelOverheadHours >= 0 && row.modelOverheadHours < 1e6))
        return refused(fmt::format("model_overhead_h of {:g} can't be", row.modelOverheadHours),
                       "Take the modelled figures from the estimate of the print.");
    if (row.actualGrams == 0 && row.actualHours == 0)
        return refused("neither the actual weight nor the actual time is given",
                       "Weigh the print, or note its hours; one of them is enough.");
    if (const Status s = checkActual("weight", row.actualGrams, row.modelGrams, "g"); !s)
        return s;
    return checkActual("time", row.actualHours, row.modelHours(), "h");
}

std::filesystem::path PrintLog::defaultFile()
{
    return configFile("prints.json");
}

Result<PrintLog> PrintLog::load(const std::filesystem::path& file)
{
    PrintLog log;
    const Status read =
        readOwnFile(file, fileKind, [&](const JsonPlace& place) { log.m_rows.push_back(rowFrom(place)); });
    if (!read)
        return read.problem();
    return log;
}

Status PrintLog::save(const std::filesystem::path& file) const
{
    nlohmann::ordered_json rows = nlohmann::ordered_json::array();
    for (const PrintedRow& row : m_rows) {
        nlohmann::ordered_json out;
        for (const TextColumn& c : texts)
            out[c.key] = orderedText(row.*c.member);
        for (const NumberColumn& c : numbers)
            out[c.key] = row.*c.member;
        rows.push_back(std::move(out));
    }
    return writeOwnFile(file, fileKind, std::move(rows));
}

Result<PrintLog> PrintLog::withRow(PrintedRow row) const
{
    if (const Status good = checkPrintedRow(row); !good)
        return good.problem();
    PrintLog log = *this;
    log.m_rows.push_back(std::move(row));
    return log;
}

Result<PrintLog> PrintLog::withoutRow(std::size_t number) const
{
    if (number < 1 || number > m_rows.size())
        return refused(fmt::format("the log has no print of number {}", number),
                       m_rows.empty() ? "It is empty." : fmt::format("Give 1 to {}.", m_rows.size()));
    PrintLog log = *this;
    log.m_rows.erase(log.m_rows.begin() + static_cast<std::ptrdiff_t>(number - 1));
    return log;
}

std::string PrintLog::csv() const
{
    std::string out;
    for (const TextColumn& c : texts)
        out += (out.empty() ? "" : ",") + std::string(c.key);
    for (const NumberColumn& c : numbers)
        out += "," + std::string(c.key);
    out += "\r\n";
    for (const PrintedRow& row : m_rows) {
        std::string line;
        for (const TextColumn& c : texts)
            line += (c.key == texts[0].key ? "" : ",") + csvField(row.*c.member);
        for (const NumberColumn& c : numbers)
            line += fmt::format(",{}", row.*c.member); // the shortest that reads back as the same number
        out += line + "\r\n";
    }
    return out;
}

Result<PrintLog> PrintLog::withCsv(std::string_view text) const
{
    const auto lines = csvLines(text);
    if (!lines)
        return lines.problem();
    if (lines->empty())
        return badCsv(1, "", "the file is empty");
    const auto header = headerOf(lines->front());
    if (!header)
        return header.problem();
    PrintLog log = *this;
    for (std::size_t i = 1; i < lines->size(); ++i) {
        auto row = rowOf((*lines)[i], *header);
        if (!row)
            return row.problem();
        if (std::find(m_rows.begin(), m_rows.end(), *row) == m_rows.end())
            log.m_rows.push_back(std::move(*row));
    }
    return log;
}

} // namespace quoin::core
