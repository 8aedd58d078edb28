// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/recent_files.h"
#include "core/state_folder.h"
#include "tests/support/model_text.h"
#include "tests/support/scratch.h"

#include <catch2/catch.hpp>

#include <cstdlib>

using namespace quoin;
using namespace quoin::core;
namespace fs = std::filesystem;

TEST_CASE("recent files: newest first, each once, twelve at most")
{
    const test::ScratchFolder folder;
    const RecentFiles recent(folder / "deep/recent.json");
    CHECK(recent.list().empty());
    for (int i = 0; i < 15; ++i)
        REQUIRE(recent.add("/models/" + std::to_string(i) + ".stl").ok());
    REQUIRE(recent.add("/models/x/../9.stl").ok()); // the same file
    auto list = recent.list();
    REQUIRE(list.size() == RecentFiles::most);
    CHECK(list[0].file == "/models/9.stl");
    CHECK(list[1].file == "/models/14.stl");
    CHECK(list.back().file == "/models/3.stl");
    CHECK(list[0].openedAt.size() == std::string("2026-11-25T14:02:37Z").size());
    REQUIRE(recent.remove("/models/14.stl").ok());
    REQUIRE(recent.remove("/models/never.stl").ok());
    CHECK(recent.list()[1].file == "/models/13.stl");
    REQUIRE(recent.clear().ok());
    CHECK(recent.list().empty());
}

TEST_CASE("recent files: names that are no UTF-8 come back")
{
    const test::ScratchFolder folder;
    const RecentFiles recent(folder / "recent.json");
    const fs::path name = "/models/l\xe4nge \"1\".stl";
    REQUIRE(recent.add(name).ok());
    CHECK(recent.list().at(0).file == name);
}

TEST_CASE("recent files: a damaged or newer list is empty, said, and moved aside before anything is written")
{
    const test::ScratchFolder folder;
    const auto file = folder / "recent.json";
    const RecentFiles recent(file);
    int n = 0;
    for (const std::string bad :
         {"not JSON", "{}", "[]", "{\"kind\":\"quoin recent files\",\"version\":2,\"files\":[]}",
          "{\"kind\":\"quoin recent files\",\"version\":1,\"files\":[{\"file\":\"no root\",\"opened_at\":\"\"}]}"}) {
        CAPTURE(bad);
        test::putContent(file, bad);
        std::string note;
        CHECK(recent.list(&note).empty());
        CHECK(note.find("recent.json") != std::string::npos);
        CHECK(test::contentOf(file) == bad); // looking changes nothing
        REQUIRE(recent.add("/models/a.stl").ok());
        CHECK(test::contentOf(folder / ("recent.json.damaged-" + std::to_string(++n))) == bad);
        CHECK(recent.list(&note).size() == 1);
        CHECK(note.empty());
    }
}

TEST_CASE("state folder: as the environment says")
{
    const char* before = std::getenv("XDG_STATE_HOME");
    const std::string kept = before != nullptr ? before : "";
    setenv("XDG_STATE_HOME", "/some/state", 1);
    CHECK(stateFolder() == "/some/state/quoin");
    CHECK(RecentFiles::defaultFile() == "/some/state/quoin/recent.json");
    setenv("XDG_STATE_HOME", "relative", 1); // counts as not set
    CHECK(stateFolder() == fs::path(std::getenv("HOME")) / ".local/state/quoin");
    before != nullptr ? setenv("XDG_STATE_HOME", kept.c_str(), 1) : unsetenv("XDG_STATE_HOME");
    CHECK(timeStampOf(0) == "1970-01-01T00:00:00Z");
}
