// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/result.h"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace quoin::mesh {

/// A walk over text, word by word or line by line, that knows its line number. Lines end with LF, CR LF or CR; words
/// are separated by blanks, tabs and line ends. A UTF-8 byte order mark at the start is passed over.
class TextScan {
public:
    /// @param comment  a character that starts a comment up to the end of the line; 0 for none
    /// @param joined   whether a backslash at the end of a line joins it with the next
    explicit TextScan(std::string_view text, char comment = 0, bool joined = false);

    /// The next word, on whatever line; empty at the end.
    std::string_view word();
    /// The next word of the current line; empty at its end.
    std::string_view wordOnLine();
    /// What is left of the current line without its end, trimmed; the scan then stands on the next line.
    std::string_view restOfLine();
    /// Passes over the rest of the line. False at the end of the text.
    bool nextLine();

    bool atEnd() const { return m_at == m_text.size(); }
    /// Of the last word read, counted from 1.
    std::size_t line() const { return m_line; }
    /// Bytes read so far, and bytes left.
    std::size_t offset() const { return m_at; }
    std::size_t left() const { return m_text.size() - m_at; }

private:
    void passBlanks();
    void passLineEnd();
    bool atLineEnd() const;
    bool atJoint() const;

    std::string_view m_text;
    std::size_t m_at = 0;
    std::size_t m_line = 1;
    char m_comment;
    bool m_joined;
};

/// "line 17".
std::string placeOfLine(std::size_t line);

enum class NumberKind { Finite, NotFinite, NotANumber };

/// A decimal number as C writes it, in any locale's program: the point is the decimal sign, a leading + is allowed.
/// Too small for a double is 0, too large is NotFinite, as are nan and inf in their usual spellings.
NumberKind parseNumber(std::string_view word, double& value);
/// A whole number with an optional sign; nothing else.
std::optional<std::int64_t> parseInteger(std::string_view word);

/// The refusal for a word where a finite number had to be.
Problem badNumber(std::string_view word, NumberKind kind, const std::string& place);

/// A word fit to be shown: cut when long, bytes that are no text replaced.
std::string shown(std::string_view word);

} // namespace quoin::mesh
