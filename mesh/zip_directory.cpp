// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/zip_directory.h"

#include <algorithm>
#include <cstddef>
#include <limits>
#include <string>

namespace quoin::mesh {

namespace {

using namespace std::string_view_literals;

constexpr std::string_view endSignature = "PK\x05\x06"sv;
constexpr std::string_view entrySignature = "PK\x01\x02"sv;
constexpr std::size_t endBytes = 22;
constexpr std::size_t entryBytes = 46;
constexpr std::size_t longestComment = 65535;
constexpr std::uint32_t inZip64Extra = 0xFFFFFFFFu;

/// A little-endian number; the caller has checked that it is there.
std::uint64_t number(std::string_view bytes, std::size_t at, std::size_t size)
{
    std::uint64_t value = 0;
    for (std::size_t i = size; i-- > 0;)
        value = value << 8 | static_cast<unsigned char>(bytes[at + i]);
    return value;
}

/// The unpacked size is the first number of extra field 1 when the entry's own field is full.
std::uint64_t sizeFromExtra(std::string_view extra)
{
    for (std::size_t at = 0; at + 4 <= extra.size();) {
        const std::size_t size = number(extra, at + 2, 2);
        if (number(extra, at, 2) == 1 && size >= 8 && at + 12 <= extra.size())
            return number(extra, at + 4, 8);
        at += 4 + size;
    }
    return std::numeric_limits<std::uint64_t>::max();
}

} // namespace

Result<std::uint64_t> unpackedBytes(std::string_view zip)
{
    const std::size_t from = zip.size() - std::min(zip.size(), longestComment + endBytes);
    const std::size_t end = zip.rfind(endSignature);
    if (end == zip.npos || end < from || end + endBytes > zip.size())
        return Problem{Reason::FileTruncated, "the archive's directory, which stands at its end, is missing", "",
                       "byte " + std::to_string(zip.size()), "Export or copy it again."};
    const std::size_t size = number(zip, end + 12, 4);
    if (size > end)
        return Problem{Reason::FileMalformed, "the archive's directory is broken", "", "byte " + std::to_string(end),
                       "Export or copy it again."};
    // Counted back from the end, so that bytes before the archive do no harm.
    const std::string_view directory = zip.substr(end - size, size);
    std::uint64_t sum = 0;
    for (std::size_t at = 0; at + entryBytes <= directory.size() && directory.substr(at, 4) == entrySignature;) {
        const std::size_t nameSize = number(directory, at + 28, 2), extraSize = number(directory, at + 30, 2);
        std::uint64_t unpacked = number(directory, at + 24, 4);
        if (unpacked == inZip64Extra && at + entryBytes + nameSize + extraSize <= directory.size())
            unpacked = sizeFromExtra(directory.substr(at + entryBytes + nameSize, extraSize));
        sum = unpacked > std::numeric_limits<std::uint64_t>::max() - sum ? std::numeric_limits<std::uint64_t>::max()
                                                                         : sum + unpacked;
        at += entryBytes + nameSize + extraSize + number(directory, at + 32, 2);
    }
    return sum;
}

} // namespace quoin::mesh
