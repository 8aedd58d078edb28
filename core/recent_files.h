// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/result.h"

#include <filesystem>
#include <string>
#include <vector>

namespace quoin::core {

/// A design or model that was opened or saved.
struct RecentFile {
    std::filesystem::path file; ///< absolute
    std::string openedAt;       ///< ISO 8601, UTC
    friend bool operator==(const RecentFile&, const RecentFile&) = default;
};

/// What was opened last, newest first, in a small JSON file. A missing file is an empty list. A damaged one, or one of
/// a newer version, is an empty list too, with a note; it is moved aside, never written over, before anything is added.
class RecentFiles {
public:
    explicit RecentFiles(std::filesystem::path file) : m_file(std::move(file)) {}
    static std::filesystem::path defaultFile();
    static constexpr std::size_t most = 12;

    /// @param note  if not null, is set to what was wrong with the file, or to nothing
    std::vector<RecentFile> list(std::string* note = nullptr) const;
    /// Puts a file at the head; it is named once only. FileUnwritable.
    Status add(const std::filesystem::path& file) const;
    /// Takes a file off the list (it is gone, or the user wants it off). FileUnwritable.
    Status remove(const std::filesystem::path& file) const;
    Status clear() const;

private:
    Result<std::vector<RecentFile>> read() const;
    Result<std::vector<RecentFile>> readForChange() const;
    Status write(const std::vector<RecentFile>& files) const;

    std::filesystem::path m_file;
};

} // namespace quoin::core
