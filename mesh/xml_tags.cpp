// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/xml_tags.h"

#include <algorithm>

namespace quoin::mesh {

namespace {

constexpr std::string_view blanks = " \t\r\n";

std::string_view withoutPrefix(std::string_view name)
{
    const std::size_t colon = name.find(':');
    return colon == name.npos ? name : name.substr(colon + 1);
}

/// Where the tag that starts at `at` ends, quotes minded; npos when it doesn't.
std::size_t tagEnd(std::string_view text, std::size_t at)
{
    char quote = 0;
    for (; at < text.size(); ++at) {
        const char c = text[at];
        if (quote != 0)
            quote = c == quote ? '\0' : quote;
        else if (c == '"' || c == '\'')
            quote = c;
        else if (c == '>')
            return at;
    }
    return text.npos;
}

} // namespace

bool XmlTags::pass(std::string_view end)
{
    const std::size_t at = m_text.find(end, m_at);
    m_at = at == m_text.npos ? m_text.size() : at + end.size();
    return at != m_text.npos;
}

bool XmlTags::next()
{
    while (m_at < m_text.size()) {
        m_at = m_text.find('<', m_at);
        if (m_at == m_text.npos)
            break;
        const std::string_view rest = m_text.substr(m_at);
        if (rest.starts_with("<!--")) {
            m_at += 4;
            pass("-->");
        } else if (rest.starts_with("<![CDATA[")) {
            pass("]]>");
        } else if (rest.starts_with("<?")) {
            pass("?>");
        } else if (rest.starts_with("</") || rest.starts_with("<!")) {
            pass(">");
        } else {
            const std::size_t end = tagEnd(m_text, m_at);
            if (end == m_text.npos)
                break;
            m_tag = m_at;
            m_at = end + 1;
            const std::string_view tag = m_text.substr(m_tag + 1, end - m_tag - 1);
            const std::size_t nameEnd = std::min(tag.find_first_of(" \t\r\n/"), tag.size());
            m_name = withoutPrefix(tag.substr(0, nameEnd));
            m_attributes = tag.substr(nameEnd);
            return true;
        }
    }
    m_at = m_text.size();
    return false;
}

bool XmlTags::attribute(std::string_view& name, std::string_view& value)
{
    const std::size_t start = m_attributes.find_first_not_of(blanks);
    const std::size_t equals = m_attributes.find('=');
    if (start == m_attributes.npos || equals == m_attributes.npos || equals < start)
        return false;
    name = m_attributes.substr(start, equals - start);
    name = withoutPrefix(name.substr(0, name.find_last_not_of(blanks) + 1));
    const std::size_t quote = m_attributes.find_first_not_of(blanks, equals + 1);
    if (quote == m_attributes.npos || (m_attributes[quote] != '"' && m_attributes[quote] != '\''))
        return false;
    const std::size_t end = m_attributes.find(m_attributes[quote], quote + 1);
    if (end == m_attributes.npos)
        return false;
    value = m_attributes.substr(quote + 1, end - quote - 1);
    m_attributes.remove_prefix(end + 1);
    return true;
}

std::size_t XmlTags::line()
{
    m_line += static_cast<std::size_t>(std::count(m_text.begin() + static_cast<std::ptrdiff_t>(m_counted),
                                                  m_text.begin() + static_cast<std::ptrdiff_t>(m_tag), '\n'));
    m_counted = m_tag;
    return m_line;
}

} // namespace quoin::mesh
