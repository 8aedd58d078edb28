// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/recovery.h"

#include "core/json_place.h"
#include "core/state_folder.h"
#include "mesh/atomic_file.h"
#include "mesh/place.h"

#include <fmt/format.h>

#include <algorithm>
#include <cerrno>
#include <chrono>
#include <fcntl.h>
#include <sys/file.h>
#include <tuple>
#include <unistd.h>
#include <utility>

namespace quoin::core {

namespace fs = std::filesystem;
using nlohmann::json;

namespace {

constexpr const char* copyName = "design.quoin.json";
constexpr const char* recordName = "session.json";
constexpr const char* lockName = "lock";
constexpr const char* recordKind = "quoin session";
constexpr int recordVersion = 1;
constexpr std::uint64_t mostRecordBytes = 1 << 20;
constexpr std::size_t longestText = 10'000;
constexpr std::int64_t largest = INT64_MAX;
constexpr int nameAttempts = 1000;
constexpr std::chrono::minutes oneMinute{1};

Problem unwritable(const fs::path& path, const std::error_code& error)
{
    return {Reason::FileUnwritable,
            "no recovery copy can be kept here: " + error.message(),
            path.string(),
            {},
            "Free some room, or set XDG_STATE_HOME to a folder that can be written. Save often until then."};
}

/// Takes the lock of this process's own session; the system gives it back however the process ends.
/// @return -1 where the file system knows no locks
int takeLock(const fs::path& session)
{
    const int descriptor = ::open((session / lockName).c_str(), O_RDWR | O_CLOEXEC | O_CREAT, 0600);
    if (descriptor >= 0 && ::flock(descriptor, LOCK_EX) != 0) {
        ::close(descriptor);
        return -1;
    }
    return descriptor;
}

/// Whether someone works in a session: its lock is held, or, where that can't be told, its process runs.
bool inUse(const fs::path& session, const std::optional<ProcessMark>& process)
{
    const int descriptor = ::open((session / lockName).c_str(), O_RDWR | O_CLOEXEC | O_NOFOLLOW);
    if (descriptor >= 0) {
        const bool free = ::flock(descriptor, LOCK_EX | LOCK_NB) == 0;
        const bool held = !free && errno == EWOULDBLOCK;
        ::close(descriptor);
        if (free || held)
            return held;
    }
    return process && process->runs();
}

/// Begun so lately that its process may not have come to take the lock yet.
bool justBegun(const fs::path& session)
{
    std::error_code error;
    const auto age = fs::file_time_type::clock::now() - fs::last_write_time(session, error);
    return error || age < oneMinute;
}

struct Record {
    ProcessMark process;
    fs::path originalFile;
    std::string savedAt, words;
};

Result<Record> recordIn(const fs::path& session)
{
    const fs::path file = session / recordName;
    const auto document = jsonInFile(file, mostRecordBytes);
    if (!document)
        return document.problem();
    try {
        const JsonPlace root(*document);
        if (root.at("kind").text(longestText) != recordKind)
            root.at("kind").fail("this is no record of a session");
        const std::int64_t version = root.at("version").whole(1, largest);
        if (version > recordVersion)
            return Problem{Reason::VersionTooNew,
                           fmt::format("the session is of version {}, this program knows {}", version, recordVersion),
                           file.string(),
                           {},
                           "Recover it with a newer Quoin."};
        Record record;
        record.process.pid = root.at("pid").whole(0, largest);
        record.process.startTicks = static_cast<std::uint64_t>(root.at("start_ticks").whole(0, largest));
        record.process.boot = root.at("boot").text(longestText);
        record.originalFile = root.at("original_file").text(longestText);
        record.savedAt = root.at("saved_at").text(longestText);
        record.words = root.at("words").text(longestText);
        return record;
    } catch (const JsonPlace::Wrong& wrong) {
        return Problem{Reason::FileMalformed, "the session's record is damaged: " + wrong.what, file.string(),
                       wrong.place, "Open it all the same: only where it was saved is not known."};
    }
}

/// When a file was written, as timeStamp() has it; for sessions whose record says nothing.
std::string writtenAt(const fs::path& file)
{
    std::error_code error;
    const auto time = fs::last_write_time(file, error);
    if (error)
        return {};
    return timeStampOf(std::chrono::system_clock::to_time_t(std::chrono::file_clock::to_sys(time)));
}

LostSession describe(const fs::path& session, const Result<Record>& record)
{
    LostSession lost{session, {}, writtenAt(session / copyName), {}, {}};
    if (record) {
        lost.originalFile = record->originalFile;
        lost.savedAt = record->savedAt;
        lost.words = record->words;
    } else {
        lost.problem = record.problem();
    }
    return lost;
}

} // namespace

std::string designWords(const Design& design)
{
    std::size_t cuts = 0;
    for (const PartDesign& part : design.parts)
        cuts += part.cuts.size();
    return mesh::counted(design.parts.size(), "part") + ", " + mesh::counted(cuts, "cut");
}

fs::path RecoveryShelf::defaultFolder()
{
    return stateFolder() / "recovery";
}

RecoveryShelf::~RecoveryShelf()
{
    if (m_lock >= 0)
        ::close(m_lock);
}

Status RecoveryShelf::begin()
{
    const std::lock_guard lock(m_saving);
    return beginLocked();
}

Status RecoveryShelf::beginLocked()
{
    std::error_code error;
    if (!m_session.empty() && fs::is_directory(m_session, error))
        return Done{};
    if (m_lock >= 0) // someone has cleared the folder away
        ::close(std::exchange(m_lock, -1));
    m_session.clear();
    fs::create_directories(m_folder, error);
    if (error)
        return unwritable(m_folder, error);
    for (int i = 0; i < nameAttempts; ++i) {
        const fs::path session = m_folder / fmt::format("{}-{}-{}", timeStamp(), ::getpid(), i);
        if (!fs::create_directory(session, error)) {
            if (error)
                return unwritable(session, error);
            continue;
        }
        // What is being made is nobody else's business.
        fs::permissions(session, fs::perms::owner_all, error);
        m_lock = takeLock(session);
        m_session = session;
        return Done{};
    }
    return unwritable(m_folder, std::make_error_code(std::errc::file_exists));
}

Status RecoveryShelf::writeRecord(const Design& design, const fs::path& originalFile) const
{
    const ProcessMark process = ProcessMark::own();
    const json record{{"kind", recordKind},      {"version", recordVersion},
                      {"pid", process.pid},      {"start_ticks", process.startTicks},
                      {"boot", process.boot},    {"original_file", textJson(originalFile.string())},
                      {"saved_at", timeStamp()}, {"words", designWords(design)}};
    return mesh::writeAtomically(m_session / recordName, record.dump(1) + "\n");
}

Status RecoveryShelf::save(const Design& design, const fs::path& originalFile, const Context& context)
{
    const std::lock_guard lock(m_saving);
    if (context.cancelled()) // while it waited: the session may be closed by now, and must stay so
        return Problem{Reason::Cancelled, "cancelled", {}, {}, {}};
    if (const Status s = beginLocked(); !s)
        return s;
    // The record comes first: a design without one would be recovered without knowing where it belongs.
    if (const Status s = writeRecord(design, originalFile); !s)
        return s;
    return saveDesign(design, m_session / copyName, m_keeper, context);
}

Status RecoveryShelf::close()
{
    const std::lock_guard lock(m_saving);
    if (m_session.empty())
        return Done{};
    std::error_code error;
    fs::remove_all(m_session, error);
    if (m_lock >= 0)
        ::close(m_lock);
    m_lock = -1;
    const fs::path session = std::exchange(m_session, {});
    if (error)
        return unwritable(session, error);
    return Done{};
}

std::vector<LostSession> RecoveryShelf::lost() const
{
    std::vector<LostSession> found;
    std::error_code error;
    for (auto entry = fs::directory_iterator(m_folder, error); !error && entry != fs::directory_iterator();
         entry.increment(error)) {
        const fs::path session = entry->path();
        std::error_code ignored;
        if (entry->is_symlink(ignored) || !entry->is_directory(ignored) || session == m_session)
            continue;
        const Result<Record> record = recordIn(session);
        if (inUse(session, record ? std::optional(record->process) : std::nullopt))
            continue;
        if (fs::exists(session / copyName, ignored))
            found.push_back(describe(session, record));
        else if (fs::exists(session / lockName, ignored) && !justBegun(session))
            fs::remove_all(session, ignored); // ended before it had kept anything
    }
    std::sort(found.begin(), found.end(), [](const LostSession& a, const LostSession& b) {
        return std::tie(a.savedAt, a.folder) > std::tie(b.savedAt, b.folder);
    });
    return found;
}

Result<OpenedDesign> RecoveryShelf::open(const LostSession& session, const OpenOptions& options, const Context& context)
{
    auto opened = openDesign(session.folder / copyName, m_keeper, options, context);
    if (opened)
        opened->file = session.originalFile;
    return opened;
}

Status RecoveryShelf::discard(const LostSession& session) const
{
    std::error_code error;
    const auto record = recordIn(session.folder);
    if (fs::weakly_canonical(session.folder.parent_path(), error) != fs::weakly_canonical(m_folder, error) ||
        session.folder.filename().empty() || session.folder.filename() == ".." || session.folder == m_session ||
        inUse(session.folder, record ? std::optional(record->process) : std::nullopt))
        return Problem{Reason::BadArgument,
                       "this is not a session that was lost",
                       session.folder.string(),
                       {},
                       "Ask for the list again."};
    fs::remove_all(session.folder, error);
    if (error)
        return unwritable(session.folder, error);
    return Done{};
}

} // namespace quoin::core
