// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/zip_archive.h"

#include <fmt/format.h>
#include <zlib.h>

#include <algorithm>
#include <array>
#include <cstddef>
#include <limits>
#include <new>

namespace quoin::mesh {

namespace {

using namespace std::string_view_literals;

constexpr std::string_view localSignature = "PK\x03\x04"sv;
constexpr std::string_view entrySignature = "PK\x01\x02"sv;
constexpr std::string_view endSignature = "PK\x05\x06"sv;
constexpr std::size_t localBytes = 30;
constexpr std::size_t entryBytes = 46;
constexpr std::size_t endBytes = 22;
constexpr std::size_t longestComment = 65535;
constexpr std::uint64_t inZip64Extra = 0xFFFFFFFFu;
constexpr std::uint16_t stored = 0, deflated = 8;
constexpr int rawDeflate = -MAX_WBITS; // without zlib's own header
constexpr std::size_t chunkBytes = 1 << 16;
constexpr std::uint64_t firstOfJanuary1980 = 33; // day 1, month 1, year 0

/// A little-endian number; the caller has checked that it is there.
std::uint64_t number(std::string_view bytes, std::size_t at, std::size_t size)
{
    std::uint64_t value = 0;
    for (std::size_t i = size; i-- > 0;)
        value = value << 8 | static_cast<unsigned char>(bytes[at + i]);
    return value;
}

void putNumber(std::string& out, std::uint64_t value, int size)
{
    for (int i = 0; i < size; ++i)
        out += static_cast<char>(value >> (8 * i) & 0xFF);
}

Problem damaged(const std::string& what)
{
    return Problem{Reason::FileMalformed, what, "", "", "Export or copy it again."};
}

/// Fields that are full stand in extra field 1, in this order, eight bytes each.
void takeZip64(std::string_view extra, ZipEntry& entry)
{
    for (std::size_t at = 0; at + 4 <= extra.size();) {
        const std::size_t size = std::min<std::size_t>(number(extra, at + 2, 2), extra.size() - at - 4);
        if (number(extra, at, 2) == 1) {
            std::string_view fields = extra.substr(at + 4, size);
            for (std::uint64_t* field : {&entry.unpackedBytes, &entry.packedBytes, &entry.headerOffset})
                if (*field == inZip64Extra && fields.size() >= 8) {
                    *field = number(fields, 0, 8);
                    fields.remove_prefix(8);
                }
        }
        at += 4 + size;
    }
}

/// One entry of the directory at `at`, which moves on; false when it is broken.
bool readEntry(std::string_view directory, std::size_t& at, ZipEntry& entry)
{
    if (at + entryBytes > directory.size() || directory.substr(at, 4) != entrySignature)
        return false;
    const std::size_t nameSize = number(directory, at + 28, 2), extraSize = number(directory, at + 30, 2);
    const std::size_t whole = entryBytes + nameSize + extraSize + number(directory, at + 32, 2);
    if (whole > directory.size() - at)
        return false;
    entry.method = static_cast<std::uint16_t>(number(directory, at + 10, 2));
    entry.checksum = static_cast<std::uint32_t>(number(directory, at + 16, 4));
    entry.packedBytes = number(directory, at + 20, 4);
    entry.unpackedBytes = number(directory, at + 24, 4);
    entry.headerOffset = number(directory, at + 42, 4);
    entry.name = directory.substr(at + entryBytes, nameSize);
    takeZip64(directory.substr(at + entryBytes + nameSize, extraSize), entry);
    at += whole;
    return true;
}

/// The packed bytes of an entry, behind its local header.
Result<std::string_view> packedContent(std::string_view zip, const ZipEntry& entry)
{
    const Problem broken =
        damaged(fmt::format("part \"{}\" of the archive isn't where its directory says", entry.name));
    if (entry.headerOffset > zip.size() || zip.size() - entry.headerOffset < localBytes ||
        zip.substr(entry.headerOffset, 4) != localSignature)
        return broken;
    const std::size_t at = entry.headerOffset;
    const std::size_t start = at + localBytes + number(zip, at + 26, 2) + number(zip, at + 28, 2);
    if (start > zip.size() || entry.packedBytes > zip.size() - start)
        return broken;
    return zip.substr(start, entry.packedBytes);
}

enum class Inflated { Done, TooMuch, Broken };

Inflated inflateAll(std::string_view packed, std::uint64_t mostBytes, std::string& out)
{
    z_stream stream{};
    if (inflateInit2(&stream, rawDeflate) != Z_OK)
        throw std::bad_alloc();
    std::array<unsigned char, chunkBytes> chunk;
    int state = Z_OK;
    std::size_t fed = 0;
    while (state == Z_OK) {
        if (stream.avail_in == 0 && fed < packed.size()) {
            const std::size_t part = std::min<std::size_t>(packed.size() - fed, std::numeric_limits<uInt>::max());
            stream.next_in = reinterpret_cast<unsigned char*>(const_cast<char*>(packed.data() + fed)); // read only
            stream.avail_in = static_cast<uInt>(part);
            fed += part;
        }
        stream.next_out = chunk.data();
        stream.avail_out = static_cast<uInt>(chunk.size());
        state = inflate(&stream, Z_NO_FLUSH);
        out.append(reinterpret_cast<const char*>(chunk.data()), chunk.size() - stream.avail_out);
        if (out.size() > mostBytes)
            break;
    }
    inflateEnd(&stream);
    if (out.size() > mostBytes)
        return Inflated::TooMuch;
    return state == Z_STREAM_END ? Inflated::Done : Inflated::Broken;
}

std::uint32_t checksumOf(std::string_view bytes, std::uint32_t before = 0)
{
    return static_cast<std::uint32_t>(
        crc32_z(before, reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size()));
}

/// The fields that local and central header share, from the version to the length of the extra field.
void putCommon(std::string& out, const ZipEntry& entry)
{
    putNumber(out, 20, 2);    // version needed: deflate
    putNumber(out, 0x800, 2); // names are UTF-8
    putNumber(out, entry.method, 2);
    putNumber(out, 0, 2); // midnight
    putNumber(out, firstOfJanuary1980, 2);
    putNumber(out, entry.checksum, 4);
    putNumber(out, entry.packedBytes, 4);
    putNumber(out, entry.unpackedBytes, 4);
    putNumber(out, entry.name.size(), 2);
    putNumber(out, 0, 2); // no extra field
}

} // namespace

Result<std::vector<ZipEntry>> zipEntries(std::string_view zip)
{
    const std::size_t from = zip.size() - std::min(zip.size(), longestComment + endBytes);
    const std::size_t end = zip.rfind(endSignature);
    if (end == zip.npos || end < from || end + endBytes > zip.size())
        return Problem{Reason::FileTruncated, "the archive's directory, which stands at its end, is missing", "",
                       fmt::format("byte {}", zip.size()), "Export or copy it again."};
    const std::size_t size = number(zip, end + 12, 4), start = number(zip, end + 16, 4);
    if (start > end || size > end - start)
        return damaged("the archive's directory is broken");
    const std::string_view directory = zip.substr(start, size);
    std::vector<ZipEntry> entries;
    for (std::size_t at = 0; at < directory.size();) {
        ZipEntry entry;
        if (!readEntry(directory, at, entry))
            return damaged("the archive's directory is broken");
        entries.push_back(std::move(entry));
    }
    return entries;
}

Result<std::string> unpacked(std::string_view zip, const ZipEntry& entry, std::uint64_t mostBytes)
{
    const Result<std::string_view> packed = packedContent(zip, entry);
    if (!packed)
        return packed.problem();
    std::string out;
    Inflated outcome = Inflated::Broken;
    if (entry.method == stored && packed->size() <= mostBytes) {
        out = *packed;
        outcome = Inflated::Done;
    } else if (entry.method == stored) {
        outcome = Inflated::TooMuch;
    } else if (entry.method == deflated) {
        outcome = inflateAll(*packed, mostBytes, out);
    }
    if (outcome == Inflated::TooMuch)
        return Problem{Reason::FileTooLarge,
                       fmt::format("part \"{}\" of the archive unpacks to more than {} bytes", entry.name, mostBytes),
                       "", "", "Don't trust this file."};
    if (outcome == Inflated::Broken || checksumOf(out) != entry.checksum)
        return damaged(fmt::format("part \"{}\" of the archive is damaged", entry.name));
    return out;
}

struct ZipWriter::Packer {
    z_stream stream{};
    std::array<unsigned char, chunkBytes> chunk;

    void feed(std::string_view content, int flush, std::string& out)
    {
        do {
            const std::size_t part = std::min<std::size_t>(content.size(), 1u << 30);
            stream.next_in = reinterpret_cast<unsigned char*>(const_cast<char*>(content.data())); // read only
            stream.avail_in = static_cast<uInt>(part);
            content.remove_prefix(part);
            do {
                stream.next_out = chunk.data();
                stream.avail_out = static_cast<uInt>(chunk.size());
                deflate(&stream, content.empty() ? flush : Z_NO_FLUSH);
                out.append(reinterpret_cast<const char*>(chunk.data()), chunk.size() - stream.avail_out);
            } while (stream.avail_out == 0);
        } while (!content.empty());
    }
};

ZipWriter::ZipWriter() : m_packer(std::make_unique<Packer>())
{
    // Fast: numbers as text don't pack much better with more effort.
    constexpr int effort = 2, memoryLevel = 8;
    if (deflateInit2(&m_packer->stream, effort, Z_DEFLATED, rawDeflate, memoryLevel, Z_DEFAULT_STRATEGY) != Z_OK)
        throw std::bad_alloc();
}

ZipWriter::~ZipWriter()
{
    deflateEnd(&m_packer->stream);
}

void ZipWriter::begin(std::string name)
{
    closeEntry();
    ZipEntry entry;
    entry.name = std::move(name);
    entry.method = deflated;
    entry.headerOffset = m_out.size();
    m_out.append(localBytes + entry.name.size(), '\0'); // filled in when the sizes are known
    m_entries.push_back(std::move(entry));
    m_open = true;
}

void ZipWriter::append(std::string_view content)
{
    ZipEntry& entry = m_entries.back();
    entry.checksum = checksumOf(content, entry.checksum);
    entry.unpackedBytes += content.size();
    m_packer->feed(content, Z_NO_FLUSH, m_out);
}

void ZipWriter::closeEntry()
{
    if (!m_open)
        return;
    m_open = false;
    m_packer->feed({}, Z_FINISH, m_out);
    deflateReset(&m_packer->stream);
    ZipEntry& entry = m_entries.back();
    entry.packedBytes = m_out.size() - entry.headerOffset - localBytes - entry.name.size();
    std::string header(localSignature);
    putCommon(header, entry);
    header += entry.name;
    m_out.replace(entry.headerOffset, header.size(), header);
}

Result<std::string> ZipWriter::finish()
{
    closeEntry();
    const std::size_t start = m_out.size();
    bool fits = true;
    for (const ZipEntry& entry : m_entries) {
        fits = fits && entry.unpackedBytes < inZip64Extra;
        m_out += entrySignature;
        putNumber(m_out, 20, 2); // made by
        putCommon(m_out, entry);
        putNumber(m_out, 0, 2); // comment
        putNumber(m_out, 0, 2); // disk
        putNumber(m_out, 0, 6); // attributes
        putNumber(m_out, entry.headerOffset, 4);
        m_out += entry.name;
    }
    const std::size_t size = m_out.size() - start;
    if (!fits || m_out.size() >= inZip64Extra)
        return Problem{Reason::FileTooLarge, "the archive would be larger than 4 GiB", "", "",
                       "Write fewer pieces a file."};
    m_out += endSignature;
    putNumber(m_out, 0, 4); // disks
    putNumber(m_out, m_entries.size(), 2);
    putNumber(m_out, m_entries.size(), 2);
    putNumber(m_out, size, 4);
    putNumber(m_out, start, 4);
    putNumber(m_out, 0, 2); // comment
    return std::move(m_out);
}

} // namespace quoin::mesh
