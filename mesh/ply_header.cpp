// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/ply_header.h"

#include "mesh/text_scan.h"

#include <fmt/format.h>

#include <array>
#include <optional>
#include <utility>

namespace quoin::mesh {

namespace {

constexpr std::array<std::pair<std::string_view, PlyType>, 16> typeNames{{
    {"char", PlyType::Int8},
    {"int8", PlyType::Int8},
    {"uchar", PlyType::UInt8},
    {"uint8", PlyType::UInt8},
    {"short", PlyType::Int16},
    {"int16", PlyType::Int16},
    {"ushort", PlyType::UInt16},
    {"uint16", PlyType::UInt16},
    {"int", PlyType::Int32},
    {"int32", PlyType::Int32},
    {"uint", PlyType::UInt32},
    {"uint32", PlyType::UInt32},
    {"float", PlyType::Float32},
    {"float32", PlyType::Float32},
    {"double", PlyType::Float64},
    {"float64", PlyType::Float64},
}};

std::optional<PlyType> typeFrom(std::string_view name)
{
    for (const auto& [known, type] : typeNames)
        if (known == name)
            return type;
    return std::nullopt;
}

Problem malformed(const std::string& what, const TextScan& scan)
{
    return Problem{Reason::FileMalformed, what, "", placeOfLine(scan.line()), "Export the model again."};
}

Status readFormat(TextScan& scan, PlyHeader& header)
{
    const std::string_view name = scan.wordOnLine(), version = scan.wordOnLine();
    if (name == "ascii")
        header.encoding = PlyEncoding::Ascii;
    else if (name == "binary_little_endian")
        header.encoding = PlyEncoding::LittleEndian;
    else if (name == "binary_big_endian")
        header.encoding = PlyEncoding::BigEndian;
    else
        return malformed(fmt::format("the PLY format \"{}\" is not known", shown(name)), scan);
    if (version != "1.0")
        return malformed(fmt::format("PLY version \"{}\" is not known", shown(version)), scan);
    return Done{};
}

Status readElement(TextScan& scan, PlyHeader& header)
{
    PlyElement element;
    element.name = scan.wordOnLine();
    const std::string_view number = scan.wordOnLine();
    const std::optional<std::int64_t> count = parseInteger(number);
    if (element.name.empty() || !count || *count < 0)
        return malformed(fmt::format("an element needs a name and a count, not \"{}\"", shown(number)), scan);
    element.count = static_cast<std::uint64_t>(*count);
    header.elements.push_back(std::move(element));
    return Done{};
}

Status readProperty(TextScan& scan, PlyHeader& header)
{
    if (header.elements.empty())
        return malformed("a property stands before any element", scan);
    PlyProperty property;
    std::string_view type = scan.wordOnLine();
    if (type == "list") {
        const std::string_view countType = scan.wordOnLine();
        const std::optional<PlyType> known = typeFrom(countType);
        if (!known || !isWhole(*known))
            return malformed(fmt::format("\"{}\" can't count a list", shown(countType)), scan);
        property.isList = true;
        property.countType = *known;
        type = scan.wordOnLine();
    }
    const std::optional<PlyType> known = typeFrom(type);
    if (!known)
        return malformed(fmt::format("the type \"{}\" is not known", shown(type)), scan);
    property.type = *known;
    property.name = scan.wordOnLine();
    if (property.name.empty())
        return malformed("a property has no name", scan);
    header.elements.back().properties.push_back(std::move(property));
    return Done{};
}

} // namespace

std::size_t plyBytes(PlyType type)
{
    switch (type) {
    case PlyType::Int8:
    case PlyType::UInt8:
        return 1;
    case PlyType::Int16:
    case PlyType::UInt16:
        return 2;
    case PlyType::Int32:
    case PlyType::UInt32:
    case PlyType::Float32:
        return 4;
    case PlyType::Float64:
        return 8;
    }
    return 8;
}

int PlyElement::find(std::string_view property) const
{
    for (std::size_t i = 0; i < properties.size(); ++i)
        if (properties[i].name == property)
            return static_cast<int>(i);
    return -1;
}

Result<PlyHeader> readPlyHeader(std::string_view bytes)
{
    PlyHeader header;
    TextScan scan(bytes);
    bool haveFormat = false;
    if (scan.wordOnLine() != "ply")
        return malformed("the file does not begin with \"ply\"", scan);
    while (scan.nextLine()) {
        const std::string_view keyword = scan.wordOnLine();
        Status done = Done{};
        if (keyword == "format") {
            done = readFormat(scan, header);
            haveFormat = true;
        } else if (keyword == "element") {
            done = readElement(scan, header);
        } else if (keyword == "property") {
            done = readProperty(scan, header);
        } else if (keyword == "end_header") {
            if (!haveFormat)
                return malformed("the header names no format", scan);
            scan.nextLine();
            header.bodyOffset = scan.offset();
            header.bodyLine = scan.line();
            return header;
        } else if (!keyword.empty() && keyword != "comment" && keyword != "obj_info") {
            return malformed(fmt::format("the header holds the unknown word \"{}\"", shown(keyword)), scan);
        }
        if (!done)
            return done.problem();
    }
    return Problem{Reason::FileTruncated, "the file ends inside its header", "", placeOfLine(scan.line()),
                   "Export or copy it again."};
}

} // namespace quoin::mesh
