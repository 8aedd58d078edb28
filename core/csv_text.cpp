// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/csv_text.h"

#include <fmt/format.h>

namespace quoin::core {

namespace {

/// What separates the fields: spreadsheets of many countries write semicolons.
char separatorOf(std::string_view text)
{
    const std::string_view first = text.substr(0, text.find('\n'));
    return first.find(',') == std::string_view::npos && first.find(';') != std::string_view::npos ? ';' : ',';
}

} // namespace

std::string csvField(std::string_view text)
{
    if (text.find_first_of(",;\"\r\n") == std::string_view::npos &&
        (text.empty() || (text.front() != ' ' && text.back() != ' ')))
        return std::string(text);
    std::string out = "\"";
    for (const char c : text)
        out += c == '"' ? std::string("\"\"") : std::string(1, c);
    return out + "\"";
}

Result<std::vector<CsvLine>> csvLines(std::string_view text)
{
    constexpr std::string_view byteOrder = "\xEF\xBB\xBF";
    if (text.starts_with(byteOrder))
        text.remove_prefix(byteOrder.size());
    const char separator = separatorOf(text);
    std::vector<CsvLine> lines;
    CsvLine line{1, {}};
    std::string field;
    bool quoted = false, wasQuoted = false;
    std::size_t number = 1;
    const auto endLine = [&] {
        if (!line.fields.empty() || !field.empty() || wasQuoted) {
            line.fields.push_back(std::move(field));
            lines.push_back(std::move(line));
        }
        field.clear();
        line = {number, {}};
        wasQuoted = false;
    };
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        number += c == '\n' ? 1 : 0;
        if (quoted) {
            if (c != '"')
                field += c;
            else if (i + 1 < text.size() && text[i + 1] == '"')
                field += text[++i];
            else
                quoted = false;
        } else if (c == '"' && field.empty()) {
            quoted = wasQuoted = true;
        } else if (c == separator) {
            line.fields.push_back(std::move(field));
            field.clear();
        } else if (c == '\n') {
            endLine();
        } else if (c != '\r') {
            field += c;
        }
    }
    if (quoted)
        return Problem{Reason::FileMalformed,
                       "a quote that begins here doesn't end",
                       {},
                       fmt::format("line {}", line.number),
                       "Close the quotation mark."};
    endLine();
    return lines;
}

} // namespace quoin::core
