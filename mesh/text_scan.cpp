// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/text_scan.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace quoin::mesh {

namespace {

constexpr std::size_t shownLength = 40;
constexpr std::string_view byteOrderMark = "\xEF\xBB\xBF";

bool isBlank(char c)
{
    return c == ' ' || c == '\t' || c == '\f' || c == '\v';
}

bool isLineEnd(char c)
{
    return c == '\n' || c == '\r';
}

/// from_chars reports too large and too small alike; the wider exponent of long double tells them apart.
NumberKind outOfRange(std::string_view word, double& value)
{
    long double wide = 0;
    const auto [end, error] = std::from_chars(word.data(), word.data() + word.size(), wide);
    const bool small =
        error == std::errc{} ? std::abs(wide) < 1 : word.find("e-") != word.npos || word.find("E-") != word.npos;
    value = 0;
    return small ? NumberKind::Finite : NumberKind::NotFinite;
}

/// Spellings of "not a number" by various run-time libraries: 1.#IND, -1.#QNAN, 1.#INF.
bool isOldNan(std::string_view word)
{
    const std::size_t mark = word.find('#');
    return mark != word.npos &&
           (word.substr(mark + 1, 2) == "IN" || word.substr(mark + 1, 2) == "QN" || word.substr(mark + 1, 2) == "SN");
}

} // namespace

TextScan::TextScan(std::string_view text, char comment, bool joined)
    : m_text(text), m_comment(comment), m_joined(joined)
{
    if (m_text.starts_with(byteOrderMark))
        m_at = byteOrderMark.size();
}

bool TextScan::atLineEnd() const
{
    return m_at == m_text.size() || isLineEnd(m_text[m_at]);
}

bool TextScan::atJoint() const
{
    return m_joined && m_at + 1 < m_text.size() && m_text[m_at] == '\\' && isLineEnd(m_text[m_at + 1]);
}

void TextScan::passBlanks()
{
    for (;;) {
        while (m_at < m_text.size() && isBlank(m_text[m_at]))
            ++m_at;
        if (!atJoint())
            break;
        ++m_at;
        passLineEnd();
    }
    if (m_comment != 0 && m_at < m_text.size() && m_text[m_at] == m_comment)
        while (!atLineEnd())
            ++m_at;
}

void TextScan::passLineEnd()
{
    if (m_at == m_text.size())
        return;
    if (m_text[m_at] == '\r' && m_at + 1 < m_text.size() && m_text[m_at + 1] == '\n')
        ++m_at;
    ++m_at;
    ++m_line;
}

std::string_view TextScan::wordOnLine()
{
    passBlanks();
    const std::size_t start = m_at;
    while (m_at < m_text.size() && !isBlank(m_text[m_at]) && !isLineEnd(m_text[m_at]) && !atJoint())
        ++m_at;
    return m_text.substr(start, m_at - start);
}

std::string_view TextScan::word()
{
    for (;;) {
        const std::string_view word = wordOnLine();
        if (!word.empty() || m_at == m_text.size())
            return word;
        passLineEnd();
    }
}

std::string_view TextScan::restOfLine()
{
    passBlanks();
    const std::size_t start = m_at;
    while (!atLineEnd())
        ++m_at;
    std::string_view rest = m_text.substr(start, m_at - start);
    while (!rest.empty() && isBlank(rest.back()))
        rest.remove_suffix(1);
    passLineEnd();
    return rest;
}

bool TextScan::nextLine()
{
    while (!atLineEnd())
        ++m_at;
    passLineEnd();
    return m_at < m_text.size();
}

std::string placeOfLine(std::size_t line)
{
    return "line " + std::to_string(line);
}

NumberKind parseNumber(std::string_view word, double& value)
{
    std::string_view digits = word;
    if (digits.size() > 1 && digits[0] == '+' && digits[1] != '-')
        digits.remove_prefix(1);
    const char* last = digits.data() + digits.size();
    const auto [end, error] = std::from_chars(digits.data(), last, value);
    if (end != last)
        return isOldNan(digits) ? NumberKind::NotFinite : NumberKind::NotANumber;
    if (error == std::errc::result_out_of_range)
        return outOfRange(digits, value);
    if (error != std::errc{})
        return NumberKind::NotANumber;
    return std::isfinite(value) ? NumberKind::Finite : NumberKind::NotFinite;
}

std::optional<std::int64_t> parseInteger(std::string_view word)
{
    if (word.size() > 1 && word[0] == '+' && word[1] != '-')
        word.remove_prefix(1);
    std::int64_t value = 0;
    const auto [end, error] = std::from_chars(word.data(), word.data() + word.size(), value);
    if (error != std::errc{} || end != word.data() + word.size())
        return std::nullopt;
    return value;
}

Problem badNumber(std::string_view word, NumberKind kind, const std::string& place)
{
    if (word.empty())
        return Problem{Reason::FileMalformed, "a number is missing", "", place, "Export the model again."};
    if (kind == NumberKind::NotFinite)
        return Problem{Reason::NumberNotFinite, fmt::format("a coordinate is \"{}\"", shown(word)), "", place,
                       "Repair the model where it was made, then export it again."};
    const bool comma = word.find(',') != word.npos;
    return Problem{Reason::FileMalformed, fmt::format("\"{}\" stands where a number must be", shown(word)), "", place,
                   comma ? "Export it with a decimal point, not a comma." : "Export the model again."};
}

std::string shown(std::string_view word)
{
    std::string out;
    for (const char c : word.substr(0, shownLength))
        out += c >= ' ' && c <= '~' ? c : '?';
    return word.size() > shownLength ? out + "..." : out;
}

} // namespace quoin::mesh
