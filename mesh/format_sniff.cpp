// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/format_sniff.h"

#include "mesh/text_scan.h"

#include <algorithm>
#include <array>
#include <optional>
#include <utility>

namespace quoin::mesh {

namespace {

using namespace std::string_view_literals;

constexpr std::size_t headBytes = 1 << 16;

std::string lower(std::string_view text)
{
    std::string out;
    for (const char c : text)
        out += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    return out;
}

/// No control characters but those that part words and lines.
bool isText(std::string_view head)
{
    return std::none_of(head.begin(), head.end(), [](char c) {
        const auto byte = static_cast<unsigned char>(c);
        return byte < 0x20 && (byte < '\t' || byte > '\r');
    });
}

/// "OFF" with its optional prefixes ST, C, N, 4, n (Geomview's manual) and, in some files, "BINARY" after it.
bool isOffKeyword(std::string_view word)
{
    for (const std::string_view prefix : {"ST"sv, "C"sv, "N"sv, "4"sv, "n"sv})
        if (word.starts_with(prefix))
            word.remove_prefix(prefix.size());
    return word == "OFF";
}

bool isObjKeyword(std::string_view word)
{
    constexpr std::array known = {"v"sv,      "vt"sv,     "vn"sv,     "vp"sv,     "f"sv,     "fo"sv,
                                  "l"sv,      "p"sv,      "o"sv,      "g"sv,      "s"sv,     "mg"sv,
                                  "mtllib"sv, "usemtl"sv, "usemap"sv, "maplib"sv, "cstype"sv};
    return std::find(known.begin(), known.end(), word) != known.end();
}

/// By the first word that is no comment.
std::optional<Format> textFormat(std::string_view head)
{
    TextScan scan(head, '#');
    const std::string_view word = scan.word();
    if (word == "ply")
        return Format::Ply;
    if (isOffKeyword(word))
        return Format::Off;
    if (isObjKeyword(word))
        return Format::Obj;
    const std::string small = lower(word);
    if (small == "solid" || small == "facet")
        return Format::StlAscii;
    return std::nullopt;
}

std::optional<Format> formatOf(const std::string& extension)
{
    constexpr std::array<std::pair<std::string_view, Format>, 5> known{{{".stl", Format::StlBinary},
                                                                        {".obj", Format::Obj},
                                                                        {".ply", Format::Ply},
                                                                        {".off", Format::Off},
                                                                        {".3mf", Format::ThreeMf}}};
    for (const auto& [name, format] : known)
        if (name == extension)
            return format;
    return std::nullopt;
}

/// What else a file may be that people take for a model.
std::string otherType(std::string_view head)
{
    constexpr std::array<std::pair<std::string_view, std::string_view>, 9> known{{
        {"\x1F\x8B", "a gzip archive: unpack it first"},
        {"7z\xBC\xAF", "a 7z archive: unpack it first"},
        {"Rar!", "a RAR archive: unpack it first"},
        {"ISO-10303-21", "a STEP file: export a mesh (STL, 3MF) from it"},
        {"glTF", "a glTF file: export STL, 3MF, OBJ or PLY"},
        {"\xFF\xFE", "text in UTF-16: save it as UTF-8"},
        {"\xFE\xFF", "text in UTF-16: save it as UTF-8"},
        {"<?xml", "an XML file: export STL, 3MF, OBJ or PLY"},
        {"%PDF", "a PDF: export STL, 3MF, OBJ or PLY"},
    }};
    for (const auto& [start, hint] : known)
        if (head.starts_with(start))
            return std::string(hint);
    return "";
}

Problem unknownType(std::string_view head, std::uint64_t size)
{
    const std::string other = otherType(head);
    if (!other.empty())
        return Problem{Reason::FileUnknownType, "this is " + other.substr(0, other.find(':')), "", "",
                       "To read it," + other.substr(other.find(':') + 1) + "."};
    return Problem{Reason::FileUnknownType,
                   isText(head)
                       ? "this text is no model format that is read here"
                       : "the content (" + std::to_string(size) + " bytes) is no model format that is read here",
                   "", "", "Export it as STL, 3MF, OBJ, PLY or OFF."};
}

/// A binary STL that went through a program that took it for text: bytes above 127 became U+FFFD.
bool wentThroughText(std::string_view head)
{
    const std::size_t first = head.find("\xEF\xBF\xBD");
    return first != head.npos && head.find("\xEF\xBF\xBD", first + 3) != head.npos;
}

/// A file of no clear content that is named .stl.
Result<Sniffed> brokenStl(std::string_view head, std::uint64_t size)
{
    if (wentThroughText(head))
        return Problem{Reason::FileMalformed, "this binary STL was changed by a program that took it for text", "",
                       "byte " + std::to_string(head.find("\xEF\xBF\xBD")),
                       "Copy or download it again as a binary file."};
    if (size < 84)
        return Problem{Reason::FileTruncated, "the file ends inside the header of a binary STL", "",
                       "byte " + std::to_string(size), "Export or copy it again."};
    return Problem{Reason::FileMalformed, "this is neither a binary nor an ASCII STL file", "", "byte 84",
                   "Export the model again."};
}

} // namespace

Result<Sniffed> sniffFormat(const SourceFile& file, const std::string& extension)
{
    Buffer<char> bytes(static_cast<std::size_t>(std::min<std::uint64_t>(file.bytes(), headBytes)));
    if (const Status read = file.read(0, bytes.data(), bytes.size()); !read)
        return read.problem();
    const std::string_view head(bytes.data(), bytes.size());

    const StlFit stl = binaryStlFit(file);
    if (stl == StlFit::Exact)
        return Sniffed{Format::StlBinary, stl};
    if (head.starts_with("PK\x03\x04"sv) || head.starts_with("PK\x05\x06"sv))
        return Sniffed{Format::ThreeMf};
    const std::optional<Format> text = textFormat(head);
    if (text && (isText(head) || text == Format::Ply))
        return Sniffed{*text};
    if (!isText(head) && stl != StlFit::None)
        return Sniffed{Format::StlBinary, stl};
    // Nothing fits. A reader that is named by the content's first word or by the extension can say best why.
    if (text)
        return Sniffed{*text};
    if (!otherType(head).empty())
        return unknownType(head, file.bytes());
    const std::optional<Format> named = formatOf(extension);
    if (named == Format::StlBinary && !isText(head))
        return brokenStl(head, file.bytes());
    if (named && named != Format::StlBinary && isText(head) && named != Format::ThreeMf)
        return Sniffed{*named};
    return unknownType(head, file.bytes());
}

std::string lowerExtension(const std::filesystem::path& file)
{
    return lower(file.extension().string());
}

bool extensionDisagrees(const std::string& extension, Format format)
{
    const std::optional<Format> named = formatOf(extension);
    if (!named)
        return false;
    const bool bothStl = named == Format::StlBinary && format == Format::StlAscii;
    return *named != format && !bothStl;
}

} // namespace quoin::mesh
