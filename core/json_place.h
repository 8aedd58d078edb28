// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/result.h"

#include <cstdint>
#include <filesystem>
#include <functional>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>

namespace quoin::core {

/// A value of a JSON document that knows where it stands, for readers of files that anyone may have edited: every
/// question that the value can't answer throws Wrong with the place (RFC 6901). The document must outlive it.
class JsonPlace {
public:
    struct Wrong {
        std::string what;
        std::string place; ///< "/parts/0/cuts/3/normal"
    };

    explicit JsonPlace(const nlohmann::json& value, std::string pointer = {})
        : m_value(&value), m_pointer(std::move(pointer))
    {
    }

    JsonPlace at(const char* key) const;
    /// None when the key is missing or null.
    std::optional<JsonPlace> maybe(const char* key) const;
    /// Calls `take` with each item of an array of at most `most`. @return how many
    std::size_t each(std::size_t most, const std::function<void(const JsonPlace&)>& take) const;
    double number(double low, double high) const;
    std::int64_t whole(std::int64_t low, std::int64_t high) const;
    int wholeInt(int low, int high) const { return static_cast<int>(whole(low, high)); }
    bool truth() const;
    /// As textJson wrote it; at most `longest` bytes, no zero byte.
    std::string text(std::size_t longest) const;

    [[noreturn]] void fail(const std::string& what) const { throw Wrong{what, m_pointer.empty() ? "/" : m_pointer}; }

private:
    const nlohmann::json* m_value;
    std::string m_pointer;
};

/// A text as JSON. File names needn't be UTF-8: such a text is kept as {"hex": "..."}, so that it comes back unchanged.
nlohmann::json textJson(const std::string& text);

/// Parses a regular file of at most `mostBytes`. FileMalformed names line and column; FileMissing, FileUnreadable,
/// FileEmpty, FileTooLarge.
Result<nlohmann::json> jsonInFile(const std::filesystem::path& file, std::uint64_t mostBytes);

} // namespace quoin::core
