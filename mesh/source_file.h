// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/context.h"
#include "mesh/mesh.h"
#include "mesh/result.h"

#include <cstdint>
#include <filesystem>

namespace quoin::mesh {

/// A regular file opened for reading. It is read, never mapped: a file that another program cuts short under us must
/// end in a problem, not in a signal. Problems carry no file name; readModel adds it.
class SourceFile {
public:
    /// FileMissing when there is none or it is a folder, a pipe or a device (which are not even opened);
    /// FileUnreadable when the system refuses; FileEmpty when it has no bytes.
    static Result<SourceFile> open(const std::filesystem::path& file);

    SourceFile(SourceFile&& other) noexcept;
    SourceFile& operator=(SourceFile&&) = delete;
    ~SourceFile();

    /// Size when it was opened.
    std::uint64_t bytes() const { return m_bytes; }
    /// Fills `to` with `size` bytes from `offset` on. FileTruncated if the file ends before that.
    Status read(std::uint64_t offset, char* to, std::size_t size) const;
    /// All of it.
    Result<Buffer<char>> readAll(const Context& context) const;

private:
    SourceFile(int descriptor, std::uint64_t bytes) : m_descriptor(descriptor), m_bytes(bytes) {}

    int m_descriptor = -1;
    std::uint64_t m_bytes = 0;
};

/// What every reader returns when it was told to stop.
Problem readingCancelled();

} // namespace quoin::mesh
