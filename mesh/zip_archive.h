// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/result.h"

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

/// As much of ZIP (PKWARE APPNOTE 6.3) as a 3MF package needs.
namespace quoin::mesh {

struct ZipEntry {
    std::string name;
    std::uint32_t checksum = 0; ///< CRC-32 of the content
    std::uint16_t method = 0;   ///< 0 stored, 8 deflated
    std::uint64_t packedBytes = 0;
    std::uint64_t unpackedBytes = 0; ///< as announced; not to be trusted
    std::uint64_t headerOffset = 0;  ///< of the local header
};

/// The entries by the central directory. FileTruncated when that, which stands at the end, is missing; FileMalformed
/// when it is broken.
Result<std::vector<ZipEntry>> zipEntries(std::string_view zip);

/// The content of an entry. FileTooLarge past `mostBytes`, whatever the directory announces; FileMalformed when it is
/// damaged or packed in a way that 3MF doesn't allow.
Result<std::string> unpacked(std::string_view zip, const ZipEntry& entry, std::uint64_t mostBytes);

/// Builds an archive in memory; the same content always makes the same bytes (all dates are 1 January 1980).
class ZipWriter {
public:
    ZipWriter();
    ~ZipWriter();
    ZipWriter(const ZipWriter&) = delete;
    ZipWriter& operator=(const ZipWriter&) = delete;

    /// Starts an entry; append() then adds to it.
    void begin(std::string name);
    void append(std::string_view content);
    /// The whole archive. FileTooLarge past 4 GiB, where plain ZIP ends.
    Result<std::string> finish();

private:
    struct Packer;
    void closeEntry();

    std::unique_ptr<Packer> m_packer;
    std::string m_out;
    std::vector<ZipEntry> m_entries;
    bool m_open = false;
};

} // namespace quoin::mesh
