// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/result.h"

#include <filesystem>
#include <string_view>
#include <vector>

namespace quoin::mesh {

/// A file being written from its start through a buffer. The first error is kept and reported by finish(); later
/// appends do nothing. Used under writeAtomically, which cares for names, flushing to the disk and clean-up.
class OutputFile {
public:
    /// Empties the file if it exists, makes it otherwise.
    explicit OutputFile(const std::filesystem::path& file);
    ~OutputFile();
    OutputFile(const OutputFile&) = delete;
    OutputFile& operator=(const OutputFile&) = delete;

    void append(std::string_view bytes);
    /// Writes what is still buffered and closes. FileUnwritable with the system's own words when anything failed
    /// since the start.
    Status finish();

private:
    void drain();

    std::filesystem::path m_file;
    std::vector<char> m_buffer;
    int m_descriptor = -1;
    int m_error = 0; ///< errno of the first failure
};

} // namespace quoin::mesh
