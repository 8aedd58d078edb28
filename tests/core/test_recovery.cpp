// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/recovery.h"
#include "tests/support/designs.h"
#include "tests/support/model_text.h"
#include "tests/support/scratch.h"
#include "tests/support/shapes.h"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <chrono>
#include <csignal>
#include <cstdlib>
#include <fcntl.h>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>

using namespace quoin;
using namespace quoin::core;
namespace fs = std::filesystem;

namespace {

constexpr const char* folderVariable = "QUOIN_TEST_RECOVERY_FOLDER";
constexpr const char* pipeVariable = "QUOIN_TEST_RECOVERY_PIPE";

/// Design number n: its name says so, and its mesh is another each time, so that most of a save is spent on it.
Design numbered(int n)
{
    Design d = test::smallDesign();
    d.parts[0].name = std::to_string(n);
    d.parts[0].source = std::make_shared<const mesh::Mesh>(test::sphere({0, 0, 0}, 10 + n, 6));
    return d;
}

/// This program again, running only the hidden case below, in which it saves until it is killed.
class Saver {
public:
    explicit Saver(const fs::path& folder)
    {
        int ends[2];
        REQUIRE(pipe(ends) == 0);
        m_read = ends[0];
        m_pid = fork();
        if (m_pid == 0) {
            setenv(folderVariable, folder.c_str(), 1);
            setenv(pipeVariable, std::to_string(ends[1]).c_str(), 1);
            execl("/proc/self/exe", "saver", "[.saver]", static_cast<char*>(nullptr));
            _exit(1);
        }
        ::close(ends[1]);
    }
    ~Saver()
    {
        kill();
        ::close(m_read);
    }
    Saver(const Saver&) = delete;
    Saver& operator=(const Saver&) = delete;

    /// Number of the next save that was completed; -1 when there is none.
    int completed() const
    {
        int n = -1;
        return ::read(m_read, &n, sizeof n) == sizeof n ? n : -1;
    }
    void kill()
    {
        if (m_pid > 0) {
            ::kill(m_pid, SIGKILL);
            waitpid(m_pid, nullptr, 0);
        }
        m_pid = -1;
    }

private:
    int m_read = -1;
    pid_t m_pid = -1;
};

} // namespace

TEST_CASE("recovery: the child that saves and saves", "[.saver]")
{
    const char* folder = std::getenv(folderVariable);
    const char* pipeEnd = std::getenv(pipeVariable);
    if (folder == nullptr || pipeEnd == nullptr)
        return;
    RecoveryShelf shelf(folder);
    for (int n = 0; shelf.save(numbered(n), "/somewhere/heron.quoin.json").ok(); ++n)
        if (::write(std::atoi(pipeEnd), &n, sizeof n) != sizeof n)
            return;
}

TEST_CASE("recovery: killed in the middle of saving, the newest completed save can be read")
{
    const test::ScratchFolder folder;
    int last = -1;
    for (int turn = 0; turn < 12; ++turn) {
        Saver saver(folder.path());
        int seen = -1;
        for (int i = 0; i <= turn % 4; ++i)
            seen = saver.completed();
        // Not always at the same place of the next save.
        std::this_thread::sleep_for(std::chrono::microseconds(2500 * turn));
        saver.kill();
        for (int n = saver.completed(); n >= 0; n = saver.completed())
            seen = n;
        RecoveryShelf shelf(folder.path());
        const auto lost = shelf.lost();
        REQUIRE(lost.size() == 1);
        CHECK_FALSE(lost[0].problem);
        CHECK(lost[0].words == "1 part, 1 cut");
        CHECK(lost[0].originalFile == "/somewhere/heron.quoin.json");
        const auto opened = shelf.open(lost[0]);
        if (!opened)
            FAIL(opened.problem().sentence());
        CHECK(opened->file == "/somewhere/heron.quoin.json");
        const int got = std::stoi(opened->design.parts[0].name);
        CHECK(got >= seen);
        CHECK(test::same(*opened->design.parts[0].source, *numbered(got).parts[0].source));
        REQUIRE(shelf.discard(lost[0]).ok());
        CHECK(shelf.lost().empty());
        last = std::max(last, got);
    }
    CHECK(last >= 3); // it did save
}

TEST_CASE("recovery: a running session is nobody's loss; a closed one is gone")
{
    const test::ScratchFolder folder;
    RecoveryShelf shelf(folder / "made/on/demand");
    REQUIRE(shelf.begin().ok());
    REQUIRE(shelf.save(test::fullDesign(), {}).ok());
    RecoveryShelf other(folder / "made/on/demand");
    CHECK(other.lost().empty());
    CHECK(shelf.lost().empty());
    {
        Saver saver(folder / "made/on/demand");
        REQUIRE(saver.completed() == 0);
        CHECK(other.lost().empty()); // another process, alive
        saver.kill();
        CHECK(other.lost().size() == 1);
    }
    const fs::path session = shelf.session();
    CHECK(other.discard({session, {}, {}, {}, {}}).problem().reason == Reason::BadArgument);
    CHECK(fs::exists(session / "design.quoin.json"));
    REQUIRE(shelf.close().ok());
    CHECK_FALSE(fs::exists(session));
    CHECK(shelf.session().empty());
    REQUIRE(shelf.close().ok());
}

TEST_CASE("recovery: a folder cleared away under a running session is made again")
{
    const test::ScratchFolder folder;
    RecoveryShelf shelf(folder / "r");
    REQUIRE(shelf.save(test::smallDesign(), {}).ok());
    fs::remove_all(folder / "r");
    REQUIRE(shelf.save(test::smallDesign(), {}).ok());
    CHECK(fs::exists(shelf.session() / "design.quoin.json"));
    CHECK(RecoveryShelf(folder / "r").lost().empty());
}

TEST_CASE("recovery: newest first, whatever the damage")
{
    const test::ScratchFolder folder;
    for (int i = 0; i < 3; ++i) {
        Saver saver(folder.path());
        REQUIRE(saver.completed() == 0);
    }
    RecoveryShelf shelf(folder.path());
    auto lost = shelf.lost();
    REQUIRE(lost.size() == 3);
    const auto put = [&](std::size_t i, const std::string& when) {
        const fs::path file = lost[i].folder / "session.json";
        auto record = nlohmann::json::parse(test::contentOf(file));
        record["saved_at"] = when;
        test::putContent(file, record.dump());
    };
    put(0, "2026-01-02T00:00:00Z");
    put(1, "2026-01-03T00:00:00Z");
    put(2, "2026-01-01T00:00:00Z");
    const fs::path oldest = lost[2].folder, newest = lost[1].folder;
    lost = shelf.lost();
    CHECK(lost.front().folder == newest);
    CHECK(lost.back().folder == oldest);

    test::putContent(newest / "session.json", "{\"kind\": 5}");
    test::putContent(oldest / "design.quoin.json", "no design");
    fs::create_directory(folder / "something else");
    test::putContent(folder / "a file", "x");
    lost = shelf.lost();
    REQUIRE(lost.size() == 3);
    const auto at = [&](const fs::path& session) {
        return *std::find_if(lost.begin(), lost.end(), [&](const auto& s) { return s.folder == session; });
    };
    REQUIRE(at(newest).problem);
    CHECK(at(newest).problem->file == (newest / "session.json").string());
    CHECK_FALSE(at(newest).savedAt.empty());
    CHECK(shelf.open(at(newest)).ok()); // only its record is damaged
    CHECK(shelf.open(at(oldest)).problem().reason == Reason::FileMalformed);
    CHECK(fs::exists(folder / "something else"));
    CHECK(shelf.discard({folder / "..", {}, {}, {}, {}}).problem().reason == Reason::BadArgument);
    CHECK(shelf.discard({folder.path(), {}, {}, {}, {}}).problem().reason == Reason::BadArgument);
}

TEST_CASE("recovery: a session that kept nothing leaves nothing, once it is old")
{
    const test::ScratchFolder folder;
    const fs::path session = folder / "2026-01-01T00:00:00Z-1-0";
    fs::create_directory(session);
    test::putContent(session / "lock", "");
    RecoveryShelf shelf(folder.path());
    CHECK(shelf.lost().empty());
    CHECK(fs::exists(session)); // its process may just be about to lock it
    fs::last_write_time(session, fs::file_time_type::clock::now() - std::chrono::hours(1));
    CHECK(shelf.lost().empty());
    CHECK_FALSE(fs::exists(session));
}

TEST_CASE("recovery: a process is told from another one of its number")
{
    const ProcessMark own = ProcessMark::own();
    CHECK(own.runs());
    CHECK(own.startTicks > 0);
    ProcessMark other = own;
    other.startTicks -= 1;
    CHECK_FALSE(other.runs());
    other = own;
    other.boot = "another boot";
    CHECK_FALSE(other.runs());
    const pid_t child = fork();
    if (child == 0)
        _exit(0);
    // Ended, but its parent hasn't asked yet.
    siginfo_t info{};
    waitid(P_PID, static_cast<id_t>(child), &info, WEXITED | WNOWAIT);
    other = own;
    other.pid = child;
    CHECK_FALSE(other.runs());
    waitpid(child, nullptr, 0);
    CHECK_FALSE(other.runs());
}

TEST_CASE("recovery: saving again is quick when only the document has changed")
{
    const test::ScratchFolder folder;
    RecoveryShelf shelf(folder.path());
    Design d = test::smallDesign();
    d.parts[0].source = std::make_shared<const mesh::Mesh>(test::sphere({0, 0, 0}, 50, 8)); // 524 288 triangles
    REQUIRE(shelf.save(d, {}).ok());
    const auto start = std::chrono::steady_clock::now();
    for (int i = 0; i < 5; ++i) {
        d.parts[0].name = std::to_string(i);
        REQUIRE(shelf.save(d, {}).ok());
    }
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
    INFO("5 saves of an unchanged mesh of 524 288 triangles: " << took.count() << " s");
    CHECK(took.count() < 2.5);
}
