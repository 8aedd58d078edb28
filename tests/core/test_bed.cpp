// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/bed.h"
#include "tests/support/scratch.h"

#include <catch2/catch.hpp>

#include <cstdlib>
#include <fstream>
#include <iterator>
#include <limits>
#include <numbers>

using namespace quoin;
using namespace quoin::core;

namespace {

std::string contentOf(const std::filesystem::path& file)
{
    std::ifstream in(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

void put(const std::filesystem::path& file, const std::string& content)
{
    std::ofstream(file, std::ios::binary) << content;
}

Bed named(const std::string& name, double side)
{
    return {name, Bed::Shape::Rectangular, side, side + 10, side + 20, 1};
}

std::vector<std::string> namesOf(const std::vector<Bed>& beds)
{
    std::vector<std::string> names;
    for (const Bed& bed : beds)
        names.push_back(bed.name);
    return names;
}

Reason reasonFor(std::string_view text)
{
    const Result<Bed> bed = bedFromText(text, shippedBeds());
    INFO(text);
    REQUIRE_FALSE(bed);
    CHECK_FALSE(bed.problem().remedy.empty());
    return bed.problem().reason;
}

} // namespace

TEST_CASE("bed: sizes as people write them", "[bed]")
{
    const auto check = [](std::string_view text, double width, double depth, double height, int machines) {
        const Result<Bed> bed = bedFromText(text, {});
        INFO(text);
        REQUIRE(bed);
        CHECK(bed->widthMm == Approx(width));
        CHECK(bed->depthMm == Approx(depth));
        CHECK(bed->heightMm == Approx(height));
        CHECK(bed->machines == machines);
        return *bed;
    };
    CHECK(check("300x300x400", 300, 300, 400, 1).name == "300x300x400");
    CHECK(check(" 300 X 310 x 400.5 * 3 ", 300, 310, 400.5, 3).name == "300x310x400.5");
    check("30cmx30cmx40cm", 300, 300, 400, 1);
    check("30x30x40cm", 300, 300, 400, 1);
    check("30cm x 300 x 40 cm", 300, 300, 400, 1);
    check("12x12x16in", 304.8, 304.8, 406.4, 1);
    check("0.3\xC3\x97"
          "0.3\xC3\x97"
          "0.4 m",
          300, 300, 400, 1);
    const Bed round = check("d250x300*2", 250, 250, 300, 2);
    CHECK(round.shape == Bed::Shape::Round);
    CHECK(round.name == "d250x300");
    CHECK(round.volumeMm3() == Approx(std::numbers::pi * 125 * 125 * 300));
    CHECK(check("\xC3\x98 250 x 300", 250, 250, 300, 1).shape == Bed::Shape::Round);
}

TEST_CASE("bed: what is no bed is refused, with words", "[bed]")
{
    for (const std::string_view text : {"",
                                        "  ",
                                        "300",
                                        "300x300",
                                        "300x300x400x500",
                                        "300x-300x400",
                                        "300x300xtall",
                                        "0x10x10",
                                        "nanx1x1",
                                        "infx1x1",
                                        "1e9x300x300",
                                        "300x300x400*0",
                                        "300x300x400*two",
                                        "300x300x400*",
                                        "300x300x400*1001",
                                        "d250",
                                        "d250x300x300",
                                        "x",
                                        "xxx",
                                        "the big one",
                                        "300x300x0.2",
                                        "1e999x300x300",
                                        "300x300x400*99999999999999"})
        CHECK(reasonFor(text) == Reason::BadArgument);
    CHECK(bedFromText("300x300xtall", {}).problem().what.find("tall") != std::string::npos);
}

TEST_CASE("bed: a known name goes first, in any case, with machines", "[bed]")
{
    const std::vector<Bed> known{named("Workhorse", 310), named("200x200x200", 190)};
    CHECK(bedFromText("Workhorse", known)->widthMm == 310);
    CHECK(bedFromText("workhorse", known)->widthMm == 310);
    CHECK(bedFromText("workhorse*4", known)->machines == 4);
    CHECK(bedFromText("200x200x200", known)->widthMm == 190);
    CHECK(bedFromText("210x210x210", known)->widthMm == 210);
}

TEST_CASE("bed: shipped sizes are named by their measure and read back as themselves", "[bed]")
{
    const std::vector<Bed> beds = shippedBeds();
    bool round = false;
    for (const Bed& bed : beds) {
        CHECK(checkBed(bed));
        CHECK(bed.name == sizeWords(bed));
        const Result<Bed> again = bedFromText(bed.name, {});
        REQUIRE(again);
        CHECK(again->shape == bed.shape);
        CHECK(again->volumeMm3() == Approx(bed.volumeMm3()));
        round = round || bed.shape == Bed::Shape::Round;
    }
    CHECK(round);
    for (const char* name :
         {"200x200x200", "220x220x250", "250x210x210", "300x300x400", "350x350x400", "400x400x450", "500x500x500"})
        CHECK(bedFromText(name, beds));
}

TEST_CASE("bed shelf: a missing file is an empty list; beds are kept, replaced and removed", "[bed]")
{
    const test::ScratchFolder folder;
    const BedShelf shelf(folder / "config/quoin/beds.json");
    REQUIRE(shelf.own());
    CHECK(shelf.own()->empty());
    CHECK(shelf.all()->size() == shippedBeds().size());

    REQUIRE(shelf.add(named("left", 301.25)));
    Bed round{"r\xC3\xA9"
              "union",
              Bed::Shape::Round,
              260,
              260,
              310,
              2};
    REQUIRE(shelf.add(round));
    CHECK(shelf.add(named("left", 5)).problem().reason == Reason::BadArgument);
    CHECK(shelf.own()->at(0).widthMm == 301.25);
    REQUIRE(shelf.add(named("left", 302), true));

    const std::vector<Bed> own = *shelf.own();
    REQUIRE(own.size() == 2);
    CHECK(own[0].widthMm == 302);
    CHECK(own[0].depthMm == 312);
    CHECK(own[0].heightMm == 322);
    CHECK(own[1].name == round.name);
    CHECK(own[1].shape == Bed::Shape::Round);
    CHECK(own[1].machines == 2);
    CHECK(own[1].depthMm == 260);

    REQUIRE(shelf.remove("left"));
    CHECK(shelf.remove("left").problem().reason == Reason::BadArgument);
    CHECK(namesOf(*shelf.own()) == std::vector<std::string>{round.name});
    CHECK(std::distance(std::filesystem::directory_iterator(folder / "config/quoin"), {}) == 1);
}

TEST_CASE("bed shelf: a user's name hides the shipped one", "[bed]")
{
    const test::ScratchFolder folder;
    const BedShelf shelf(folder / "beds.json");
    REQUIRE(shelf.add(named("200x200x200", 195)));
    const std::vector<Bed> all = *shelf.all();
    CHECK(all.size() == shippedBeds().size());
    CHECK(bedFromText("200x200x200", all)->widthMm == 195);
}

TEST_CASE("bed shelf: beds that can't be are not kept", "[bed]")
{
    const test::ScratchFolder folder;
    const BedShelf shelf(folder / "beds.json");
    for (const char* name : {"", " a", "a ", "a*2", "a,b", "a\nb", "\xFF\xFE"})
        CHECK(shelf.add(named(name, 200)).problem().reason == Reason::BadArgument);
    for (const double side :
         {0.0, -5.0, std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity()})
        CHECK(shelf.add(named("a", side)).problem().reason == Reason::BadArgument);
    CHECK(shelf.add({"oval", Bed::Shape::Round, 200, 210, 300, 1}).problem().reason == Reason::BadArgument);
    CHECK_FALSE(std::filesystem::exists(folder / "beds.json"));
}

TEST_CASE("bed shelf: a damaged file is named and never written over", "[bed]")
{
    const test::ScratchFolder folder;
    const std::filesystem::path file = folder / "beds.json";
    const BedShelf shelf(file);
    REQUIRE(shelf.add(named("left", 300)));
    const std::string good = contentOf(file);
    const auto with = [&](const std::string& from, const std::string& to) {
        std::string text = good;
        REQUIRE(text.find(from) != std::string::npos);
        return text.replace(text.find(from), from.size(), to);
    };
    for (const std::string& bad :
         {std::string("{"), std::string("[]"), std::string(), std::string("{\"version\": 1}"),
          good.substr(0, good.size() / 2), with("rectangular", "oval"),
          with("\"widthMm\": 300.0", "\"widthMm\": \"a\""), with("\"widthMm\": 300.0", "\"widthMm\": -1"),
          with("\"depthMm\"", "\"dephtMm\""), with("\"version\": 1", "\"version\": \"1\"")}) {
        INFO(bad);
        put(file, bad);
        const Result<std::vector<Bed>> own = shelf.own();
        REQUIRE_FALSE(own);
        CHECK(own.problem().reason == Reason::FileMalformed);
        CHECK(own.problem().file == file.string());
        CHECK_FALSE(shelf.add(named("right", 300)));
        CHECK_FALSE(shelf.remove("left"));
        CHECK(contentOf(file) == bad);
    }
    put(file, with("\"version\": 1", "\"version\": 2"));
    CHECK(shelf.own().problem().reason == Reason::VersionTooNew);
    put(file, R"({"version": 1, "beds": [{"name": "a", "shape": "round", "diameterMm": 100, "heightMm": 100},
                                         {"name": "a", "shape": "round", "diameterMm": 100, "heightMm": 100}]})");
    CHECK(shelf.own().problem().place == "bed 2");
    CHECK(BedShelf(folder.path()).own().problem().reason == Reason::FileUnreadable);
}

TEST_CASE("bed shelf: the file is where the desktop's standard says", "[bed]")
{
    // XDG Base Directory Specification 0.8: $XDG_CONFIG_HOME, if set and absolute, else $HOME/.config.
    const char* before = std::getenv("XDG_CONFIG_HOME");
    const std::string kept = before != nullptr ? before : "";
    setenv("XDG_CONFIG_HOME", "/somewhere/config", 1);
    CHECK(BedShelf::defaultFile() == "/somewhere/config/quoin/beds.json");
    for (const char* unset : {"", "relative"}) {
        setenv("XDG_CONFIG_HOME", unset, 1);
        CHECK(BedShelf::defaultFile() == std::filesystem::path(std::getenv("HOME")) / ".config/quoin/beds.json");
    }
    before != nullptr ? setenv("XDG_CONFIG_HOME", kept.c_str(), 1) : unsetenv("XDG_CONFIG_HOME");
}
