// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/machine.h"
#include "tests/support/model_text.h"
#include "tests/support/scratch.h"
#include "tests/support/shop.h"

#include <catch2/catch.hpp>

#include <limits>

using namespace quoin;
using namespace quoin::core;

namespace {

Shop aShop()
{
    Machine m = test::machine("big one");
    m.nozzleMm = 0.8;
    m.materials = {"PLA", "PETG"};
    m.speedFactor = 1.25;
    m.costPerHour = 0.4;
    m.powerW = 180;
    m.calendar.days = *attendedFromText("mon-fri 8-12 13-18, sat 9:30-12");
    m.calendar.weekends = false;
    m.calendar.away = {std::chrono::local_days(std::chrono::year(2026) / 12 / 24)};
    m.failure = {FailureRate::Per::Print, 0.04};
    Machine round = test::machine("round");
    round.bed = {"round", Bed::Shape::Round, 250, 250, 300, 1};
    return *withStock(*withMachine(*withMachine({}, m), round), {"PLA", 3, 750, 120.5, 22});
}

/// Beds are told by their size in the file, not by a name.
Shop nameless(Shop shop)
{
    for (Machine& m : shop.machines)
        m.bed.name.clear();
    return shop;
}

} // namespace

TEST_CASE("machines: kept in a file and read back")
{
    const test::ScratchFolder scratch;
    const auto file = scratch / "config/machines.json";
    CHECK(loadShop(file)->machines.empty()); // none yet
    REQUIRE(saveShop(aShop(), file));
    const auto back = loadShop(file);
    REQUIRE(back);
    CHECK(nameless(*back) == nameless(aShop()));
    CHECK(back->machine("BIG ONE") != nullptr);
    CHECK(back->spools("pla")->grams() == 3 * 750 + 120.5);
}

TEST_CASE("machines: damaged files name the place, and are never written over by reading")
{
    const test::ScratchFolder scratch;
    const auto file = scratch / "machines.json";
    REQUIRE(saveShop(aShop(), file));
    const std::string good = test::contentOf(file);
    const auto with = [&](const std::string& from, const std::string& to) {
        std::string text = good;
        const auto at = text.find(from);
        REQUIRE(at != std::string::npos);
        test::putContent(file, text.replace(at, from.size(), to));
        const auto read = loadShop(file);
        REQUIRE_FALSE(read);
        CHECK(read.problem().file == file.string());
        return read.problem();
    };
    CHECK(with("\"mon-fri 8-12 13-18, sat 9:30-12\"", "\"whenever\"").place == "/machines/0/attended");
    CHECK(with("300x300x400", "300x300").place == "/machines/0/bed");
    CHECK(with("\"nights\": true", "\"nights\": 1").place == "/machines/0/nights");
    CHECK(with("\"failures_per\": \"print\"", "\"failures_per\": \"month\"").place == "/machines/0/failures_per");
    CHECK(with("\"speed_factor\": 1.25", "\"speed_factor\": 0").place == "/machines/0");
    CHECK(with("2026-12-24", "2026-12-34").place == "/machines/0/away/0");
    CHECK(with("\"spools\": 3", "\"spools\": -3").place == "/stock/0/spools");
    CHECK(with("\"name\": \"round\"", "\"name\": \"Big One\"").what.find("earlier machine") != std::string::npos);
    CHECK(with("\"version\": 1", "\"version\": 2").reason == Reason::VersionTooNew);
    CHECK(with("quoin machines", "quoin fits").place == "/kind");
    CHECK(with("{", "").reason == Reason::FileMalformed);
    for (std::size_t n = 0; n + 2 < good.size(); n += 97) { // truncated anywhere
        test::putContent(file, good.substr(0, n));
        CHECK_FALSE(loadShop(file));
    }
}

TEST_CASE("machines: what can't be")
{
    const Machine good = test::machine("m");
    REQUIRE(checkMachine(good));
    const auto bad = [&](auto&& change) {
        Machine m = good;
        change(m);
        const Status s = checkMachine(m);
        return !s && s.problem().reason == Reason::BadArgument && !s.problem().remedy.empty();
    };
    CHECK(bad([](Machine& m) { m.name = ""; }));
    CHECK(bad([](Machine& m) { m.name = "two\nlines"; }));
    CHECK(bad([](Machine& m) { m.bed.widthMm = 0; }));
    CHECK(bad([](Machine& m) { m.bed.machines = 2; }));
    CHECK(bad([](Machine& m) { m.marginMm = 150; }));
    CHECK(bad([](Machine& m) { m.gapMm = -1; }));
    CHECK(bad([](Machine& m) { m.speedFactor = std::numeric_limits<double>::quiet_NaN(); }));
    CHECK(bad([](Machine& m) { m.failure.rate = 0.6; }));
    CHECK(bad([](Machine& m) { m.failure = {FailureRate::Per::Print, 1}; }));
    CHECK(bad([](Machine& m) { m.calendar.days = {}; }));
    CHECK(bad([](Machine& m) { m.calendar.days[0] = {{600, 500}}; }));
    CHECK(bad([](Machine& m) {
        m.calendar.days = {};
        m.calendar.days[0] = {{600, 615}};
        m.changeMinutes = 16;
    }));
    CHECK_FALSE(withoutMachine(aShop(), "small one"));
    CHECK(withoutMachine(aShop(), "Round")->machines.size() == 1);
    CHECK(withStock(aShop(), {"PLA", 0, 1000, 0, 0})->stock.empty());
    CHECK_FALSE(withStock(aShop(), {"PLA", -1, 1000, 0, 0}));
    // Failures that never come cost nothing.
    CHECK(FailureRate{FailureRate::Per::Hour, 0}.meanHours(7) == 7);
    CHECK(FailureRate{FailureRate::Per::Print, 0.2}.meanHours(8) == Approx(10)); // 8 h / 0.8
}
