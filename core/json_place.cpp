// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/json_place.h"

#include "mesh/source_file.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>

namespace quoin::core {

using nlohmann::json;

namespace {

constexpr const char* hexKey = "hex";

/// The bytes of an even number of hexadecimal digits.
std::optional<std::string> bytesOfHex(const std::string& hex)
{
    std::string bytes;
    for (std::size_t i = 0; i + 1 < hex.size(); i += 2) {
        unsigned value = 0;
        const char* const end = hex.data() + i + 2;
        if (std::from_chars(hex.data() + i, end, value, 16).ptr != end)
            return std::nullopt;
        bytes += static_cast<char>(value);
    }
    return hex.size() % 2 == 0 ? std::optional(bytes) : std::nullopt;
}

/// "line 3, column 7" of a byte (counted from 1, as the parser does).
std::string placeOfByte(std::string_view text, std::size_t byte)
{
    const std::string_view before = text.substr(0, byte == 0 ? 0 : byte - 1);
    const auto line = std::count(before.begin(), before.end(), '\n') + 1;
    const std::size_t newline = before.rfind('\n');
    const std::size_t column = before.size() - (newline == std::string_view::npos ? 0 : newline + 1) + 1;
    return fmt::format("line {}, column {}", line, column);
}

} // namespace

JsonPlace JsonPlace::at(const char* key) const
{
    if (!m_value->is_object())
        fail("an object was expected");
    const auto found = m_value->find(key);
    if (found == m_value->end())
        fail(fmt::format("\"{}\" is missing", key));
    return JsonPlace(*found, m_pointer + "/" + key);
}

std::optional<JsonPlace> JsonPlace::maybe(const char* key) const
{
    if (!m_value->is_object())
        fail("an object was expected");
    const auto found = m_value->find(key);
    if (found == m_value->end() || found->is_null())
        return std::nullopt;
    return JsonPlace(*found, m_pointer + "/" + key);
}

std::size_t JsonPlace::each(std::size_t most, const std::function<void(const JsonPlace&)>& take) const
{
    if (!m_value->is_array())
        fail("a list was expected");
    if (m_value->size() > most)
        fail(fmt::format("the list has {} entries, at most {} can be", m_value->size(), most));
    for (std::size_t i = 0; i < m_value->size(); ++i)
        take(JsonPlace((*m_value)[i], m_pointer + "/" + std::to_string(i)));
    return m_value->size();
}

double JsonPlace::number(double low, double high) const
{
    if (!m_value->is_number())
        fail("a number was expected");
    const double value = m_value->get<double>();
    if (!(value >= low && value <= high)) // NaN too
        fail(fmt::format("{:g} is not between {:g} and {:g}", value, low, high));
    return value;
}

std::int64_t JsonPlace::whole(std::int64_t low, std::int64_t high) const
{
    if (!m_value->is_number_integer())
        fail("a whole number was expected");
    const bool tooLarge =
        m_value->is_number_unsigned() && m_value->get<std::uint64_t>() > static_cast<std::uint64_t>(INT64_MAX);
    const std::int64_t value = tooLarge ? INT64_MAX : m_value->get<std::int64_t>();
    if (tooLarge || value < low || value > high)
        fail(fmt::format("{} is not between {} and {}", m_value->dump(), low, high));
    return value;
}

bool JsonPlace::truth() const
{
    if (!m_value->is_boolean())
        fail("true or false was expected");
    return m_value->get<bool>();
}

std::string JsonPlace::text(std::size_t longest) const
{
    if (m_value->is_object() && m_value->contains(hexKey)) {
        const JsonPlace hex = at(hexKey);
        const auto bytes = bytesOfHex(hex.text(2 * longest));
        if (!bytes || bytes->find('\0') != std::string::npos)
            hex.fail("these are not the hexadecimal digits of a text");
        return *bytes;
    }
    if (!m_value->is_string())
        fail("a text was expected");
    const auto& value = m_value->get_ref<const std::string&>();
    if (value.size() > longest)
        fail(fmt::format("the text is {} bytes long, at most {} can be", value.size(), longest));
    if (value.find('\0') != std::string::npos)
        fail("the text holds a zero byte");
    return value;
}

json textJson(const std::string& text)
{
    try {
        // Dumping is what refuses bytes that are not UTF-8.
        if (!json(text).dump().empty())
            return text;
    } catch (const json::type_error&) {
        // kept as bytes below
    }
    std::string hex;
    for (const char c : text)
        hex += fmt::format("{:02x}", static_cast<unsigned char>(c));
    return {{hexKey, hex}};
}

Result<json> jsonInFile(const std::filesystem::path& file, std::uint64_t mostBytes)
{
    const auto named = [&file](Problem problem) {
        problem.file = file.string();
        return problem;
    };
    const auto source = mesh::SourceFile::open(file);
    if (!source) {
        Problem problem = named(source.problem());
        problem.remedy = "Check the name, the permissions, and that the file was copied whole.";
        return problem;
    }
    if (source->bytes() > mostBytes)
        return named({Reason::FileTooLarge,
                      fmt::format("the file has {} bytes, at most {} are read", source->bytes(), mostBytes),
                      {},
                      {},
                      "Check that this is the right file."});
    const auto bytes = source->readAll({});
    if (!bytes)
        return named(bytes.problem());
    const std::string_view text(bytes->data(), bytes->size());
    try {
        return json::parse(text.begin(), text.end());
    } catch (const json::parse_error& wrong) {
        return named({Reason::FileMalformed,
                      "this is not JSON",
                      {},
                      placeOfByte(text, wrong.byte),
                      "Take an earlier copy, or correct the file there."});
    } catch (const json::exception& wrong) {
        return named({Reason::FileMalformed, fmt::format("a value can't be held: {}", wrong.what()), {}, {}, {}});
    }
}

} // namespace quoin::core
