// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <string_view>

namespace quoin::mesh {

/// A walk over the start tags of an XML text: names and attributes as they stand, entities untouched. Comments, CDATA
/// sections and instructions are passed over. No judge of well-formedness: at what it can't follow it ends.
class XmlTags {
public:
    explicit XmlTags(std::string_view text) : m_text(text) {}

    /// Moves to the next start tag; false at the end.
    bool next();
    /// Of the tag, without its namespace prefix.
    std::string_view name() const { return m_name; }
    /// The next attribute of the tag, without its prefix; false after the last.
    bool attribute(std::string_view& name, std::string_view& value);
    /// Line of the tag, counted from 1.
    std::size_t line();

private:
    bool pass(std::string_view end);

    std::string_view m_text;
    std::size_t m_at = 0;
    std::size_t m_tag = 0;
    std::string_view m_name;
    std::string_view m_attributes; ///< not read yet
    std::size_t m_counted = 0;     ///< bytes whose lines are in m_line
    std::size_t m_line = 1;
};

} // namespace quoin::mesh
