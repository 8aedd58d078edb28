// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/design_file.h"
#include "core/process_mark.h"

#include <filesystem>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

namespace quoin::core {

/// A session of the program that ended without closing: what was on the screen, as last kept.
struct LostSession {
    std::filesystem::path folder;
    std::filesystem::path originalFile; ///< where the design was saved last; empty: never
    std::string savedAt;                ///< ISO 8601, UTC
    std::string words;                  ///< "3 parts, 12 cuts"
    std::optional<Problem> problem;     ///< when it can't be recovered, or not known to
};

/// Copies of running sessions, so that a crash loses little. One folder a session, with the design as saveDesign
/// writes it, what is known about it, and a lock that the system releases when the process ends, however it ends.
///
/// save() may be called from a worker thread; one call at a time runs.
class RecoveryShelf {
public:
    explicit RecoveryShelf(std::filesystem::path folder) : m_folder(std::move(folder)) {}
    ~RecoveryShelf(); ///< closes nothing: a session that wasn't closed was lost
    RecoveryShelf(const RecoveryShelf&) = delete;
    RecoveryShelf& operator=(const RecoveryShelf&) = delete;
    static std::filesystem::path defaultFolder();

    /// Makes the folder of this session. FileUnwritable.
    Status begin();
    /// Keeps the design as it is now; begins if needed. Quick when no mesh is new. What saveDesign says.
    Status save(const Design& design, const std::filesystem::path& originalFile, const Context& context = {});
    /// The work is saved, or given up by the user: removes this session's folder.
    Status close();
    /// Empty before begin().
    const std::filesystem::path& session() const { return m_session; }

    /// Sessions whose process is gone, newest first. Those that never kept a design are removed on the way.
    std::vector<LostSession> lost() const;
    /// Opens a lost session's design; OpenedDesign::file is the original file. What openDesign says.
    Result<OpenedDesign> open(const LostSession& session, const OpenOptions& options = {}, const Context& context = {});
    /// Removes a lost session for good. BadArgument when it isn't one of this shelf, or its process still runs.
    Status discard(const LostSession& session) const;

private:
    Status beginLocked();
    Status writeRecord(const Design& design, const std::filesystem::path& originalFile) const;

    std::filesystem::path m_folder;
    std::filesystem::path m_session;
    int m_lock = -1; ///< descriptor of this session's lock
    std::mutex m_saving;
    MeshKeeper m_keeper;
};

/// "3 parts, 12 cuts".
std::string designWords(const Design& design);

} // namespace quoin::core
