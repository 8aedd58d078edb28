// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/atomic_file.h"
#include "mesh/output_file.h"
#include "mesh/write_model.h"
#include "tests/support/model_text.h"
#include "tests/support/scratch.h"

#include <catch2/catch.hpp>

#include <csignal>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

using namespace quoin;
using namespace quoin::mesh;
using test::contentOf;
using test::putContent;
using test::ScratchFolder;
namespace fs = std::filesystem;

namespace {

std::size_t entries(const fs::path& folder)
{
    return static_cast<std::size_t>(std::distance(fs::directory_iterator(folder), fs::directory_iterator{}));
}

mode_t modeOf(const fs::path& file)
{
    struct stat status = {};
    REQUIRE(::stat(file.c_str(), &status) == 0);
    return status.st_mode & 07777;
}

} // namespace

TEST_CASE("atomic file: new content, and content over old")
{
    ScratchFolder scratch;
    REQUIRE(writeAtomically(scratch / "a", "first").ok());
    CHECK(contentOf(scratch / "a") == "first");
    REQUIRE(writeAtomically(scratch / "a", std::string(3'000'000, 'x')).ok());
    CHECK(contentOf(scratch / "a") == std::string(3'000'000, 'x'));
    REQUIRE(writeAtomically(scratch / "a", "").ok());
    CHECK(contentOf(scratch / "a").empty());
    CHECK(entries(scratch.path()) == 1);
}

TEST_CASE("atomic file: a failure leaves the old content and no litter")
{
    ScratchFolder scratch;
    putContent(scratch / "a", "good");
    const Status failed = writeAtomically(scratch / "a", [](const fs::path& temporary) -> Status {
        putContent(temporary, "half");
        return Problem{Reason::FileUnwritable, "the pen broke", temporary.string(), "", ""};
    });
    REQUIRE_FALSE(failed.ok());
    CHECK(failed.problem().what == "the pen broke");
    CHECK(failed.problem().file == (scratch / "a").string());
    CHECK(contentOf(scratch / "a") == "good");
    CHECK(entries(scratch.path()) == 1);
    CHECK_THROWS(
        writeAtomically(scratch / "a", [](const fs::path&) -> Status { throw std::logic_error("a mistake"); }));
    CHECK(contentOf(scratch / "a") == "good");
    CHECK(entries(scratch.path()) == 1);
}

TEST_CASE("atomic file: a full disk leaves the old content and no litter")
{
    ScratchFolder scratch;
    putContent(scratch / "a", "good");
    // A limit on the size of files stands in for a full disk; in a process of its own, since it can't be taken back.
    const pid_t child = ::fork();
    REQUIRE(child >= 0);
    if (child == 0) {
        ::signal(SIGXFSZ, SIG_IGN);
        const rlimit limit{100'000, 100'000};
        ::setrlimit(RLIMIT_FSIZE, &limit);
        const Status written = writeAtomically(scratch / "a", std::string(5'000'000, 'x'));
        ::_exit(!written.ok() && written.problem().reason == Reason::FileUnwritable ? 0 : 1);
    }
    int status = 0;
    REQUIRE(::waitpid(child, &status, 0) == child);
    CHECK(WEXITSTATUS(status) == 0);
    CHECK(contentOf(scratch / "a") == "good");
    CHECK(entries(scratch.path()) == 1);
}

TEST_CASE("atomic file: what must not be replaced isn't")
{
    ScratchFolder scratch;
    fs::create_directory(scratch / "folder");
    REQUIRE(::mkfifo((scratch / "pipe").c_str(), 0600) == 0);
    for (const fs::path& file : {scratch / "folder", scratch / "pipe", fs::path("/dev/null"), scratch / "none" / "a",
                                 scratch.path() / "", fs::path()}) {
        INFO(file);
        const Status written = writeAtomically(file, "x");
        REQUIRE_FALSE(written.ok());
        CHECK(written.problem().reason == Reason::FileUnwritable);
        CHECK(written.problem().file == file.string());
        CHECK_FALSE(written.problem().remedy.empty());
    }
    CHECK(fs::is_character_file("/dev/null"));
    CHECK(fs::is_fifo(scratch / "pipe"));
    CHECK(entries(scratch.path()) == 2);
}

TEST_CASE("atomic file: a link stays a link, and modes stay")
{
    ScratchFolder scratch;
    fs::create_directory(scratch / "deep");
    putContent(scratch / "deep" / "real", "old");
    ::chmod((scratch / "deep" / "real").c_str(), 0640);
    fs::create_symlink(scratch / "deep" / "real", scratch / "link");
    REQUIRE(writeAtomically(scratch / "link", "new").ok());
    CHECK(fs::is_symlink(scratch / "link"));
    CHECK(contentOf(scratch / "deep" / "real") == "new");
    CHECK(modeOf(scratch / "deep" / "real") == 0640);

    const mode_t old = ::umask(027);
    REQUIRE(writeAtomically(scratch / "fresh", "x").ok());
    ::umask(old);
    CHECK(modeOf(scratch / "fresh") == 0640);
}

TEST_CASE("atomic file: the longest name that a folder takes")
{
    ScratchFolder scratch;
    const fs::path file = scratch / (std::string(251, 'n') + ".stl"); // 255 bytes, NAME_MAX on Linux
    REQUIRE(writeAtomically(file, "x").ok());
    CHECK(contentOf(file) == "x");
    CHECK(writeAtomically(scratch / std::string(300, 'n'), "x").problem().reason == Reason::FileUnwritable);
    CHECK(entries(scratch.path()) == 1);
}

TEST_CASE("atomic file: a bare name goes to the current folder")
{
    ScratchFolder scratch;
    const fs::path before = fs::current_path();
    fs::current_path(scratch.path());
    const Status written = writeAtomically("bare", "x");
    fs::current_path(before);
    CHECK(written.ok());
    CHECK(contentOf(scratch / "bare") == "x");
}

TEST_CASE("output file: a file that can't be opened is told at the end")
{
    ScratchFolder scratch;
    OutputFile out(scratch / "none" / "a");
    out.append("x");
    CHECK(out.finish().problem().reason == Reason::FileUnwritable);
}
