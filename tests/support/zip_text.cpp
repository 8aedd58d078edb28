// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/support/zip_text.h"

#include <cstdint>

namespace quoin::test {

namespace {

/// CRC-32 of ISO 3309, bit by bit.
std::uint32_t crc32(const std::string& bytes)
{
    std::uint32_t crc = 0xFFFFFFFFu;
    for (const char c : bytes) {
        crc ^= static_cast<unsigned char>(c);
        for (int i = 0; i < 8; ++i)
            crc = (crc >> 1) ^ ((crc & 1) != 0 ? 0xEDB88320u : 0u);
    }
    return ~crc;
}

void number(std::string& out, std::uint64_t value, int size)
{
    for (int i = 0; i < size; ++i)
        out += static_cast<char>(value >> (8 * i) & 0xFF);
}

/// The fields that the local and the central header have in common.
void commonFields(std::string& out, const std::string& name, const std::string& content)
{
    number(out, 20, 2); // version needed
    number(out, 0, 2);  // flags
    number(out, 0, 2);  // stored
    number(out, 0, 2);  // time
    number(out, 33, 2); // 1 January 1980
    number(out, crc32(content), 4);
    number(out, content.size(), 4);
    number(out, content.size(), 4);
    number(out, name.size(), 2);
    number(out, 0, 2); // extra
}

} // namespace

std::string zipOf(const std::vector<std::pair<std::string, std::string>>& parts)
{
    std::string out, directory;
    for (const auto& [name, content] : parts) {
        directory += std::string("PK\1\2", 4);
        number(directory, 20, 2);
        commonFields(directory, name, content);
        number(directory, 0, 2); // comment
        number(directory, 0, 2); // disk
        number(directory, 0, 6); // attributes
        number(directory, out.size(), 4);
        directory += name;
        out += std::string("PK\3\4", 4);
        commonFields(out, name, content);
        out += name + content;
    }
    const std::size_t start = out.size();
    out += directory + std::string("PK\5\6", 4);
    number(out, 0, 4);
    number(out, parts.size(), 2);
    number(out, parts.size(), 2);
    number(out, directory.size(), 4);
    number(out, start, 4);
    number(out, 0, 2);
    return out;
}

std::string threeMfOf(const std::string& modelXml)
{
    return zipOf(
        {{"[Content_Types].xml",
          "<?xml version=\"1.0\" encoding=\"UTF-8\"?><Types "
          "xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\"><Default Extension=\"rels\" "
          "ContentType=\"application/vnd.openxmlformats-package.relationships+xml\"/><Default "
          "Extension=\"model\" ContentType=\"application/vnd.ms-package.3dmanufacturing-3dmodel+xml\"/></Types>"},
         {"_rels/.rels",
          "<?xml version=\"1.0\" encoding=\"UTF-8\"?><Relationships "
          "xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\"><Relationship Id=\"rel0\" "
          "Type=\"http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel\" "
          "Target=\"/3D/3dmodel.model\"/></Relationships>"},
         {"3D/3dmodel.model", modelXml}});
}

} // namespace quoin::test
