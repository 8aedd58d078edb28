// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/length.h"

#include "mesh/model_file.h"

#include <fmt/format.h>

#include <charconv>
#include <cmath>

namespace quoin::core {

namespace {

std::string_view trimmed(std::string_view text)
{
    const char* blanks = " \t\r\n";
    const std::size_t first = text.find_first_not_of(blanks);
    if (first == text.npos)
        return {};
    return text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

Problem notALength(std::string_view text, const std::string& why)
{
    return Problem{Reason::BadArgument, fmt::format("\"{}\" is not a length{}", text, why), "", "",
                   "Write a number and a unit, such as 1800mm, 1.8 m, 30 cm or 12 inch."};
}

} // namespace

Result<double> lengthMmFrom(std::string_view text)
{
    std::string_view rest = trimmed(text);
    if (rest.size() > 1 && rest[0] == '+' && rest[1] != '-')
        rest.remove_prefix(1);
    double number = 0;
    const auto [end, error] = std::from_chars(rest.data(), rest.data() + rest.size(), number);
    if (error == std::errc::result_out_of_range)
        return notALength(text, ": the number is out of range");
    if (error != std::errc{} || !std::isfinite(number))
        return notALength(text, "");
    rest.remove_prefix(static_cast<std::size_t>(end - rest.data()));
    if (rest.starts_with(','))
        return notALength(text, ": use a decimal point, not a comma");
    rest = trimmed(rest);
    if (rest.empty())
        return number;
    const Result<mesh::Unit> unit = mesh::unitFromName(rest);
    if (!unit)
        return notALength(text, fmt::format(": \"{}\" is no unit of length", rest));
    const double lengthMm = number * mesh::millimetresIn(*unit);
    if (!std::isfinite(lengthMm))
        return notALength(text, ": the number is out of range");
    return lengthMm;
}

} // namespace quoin::core
