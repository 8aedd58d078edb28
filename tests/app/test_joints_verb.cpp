// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/primitives.h"
#include "mesh/write_model.h"
#include "tests/app/command.h"
#include "tests/support/model_text.h"
#include "tests/support/scratch.h"

#include <catch2/catch.hpp>

using namespace quoin;
using namespace quoin::test;

namespace {

/// A saved design of a box with one face, A.
std::string boxDesign(const ScratchFolder& scratch)
{
    const std::string model = (scratch / "box.stl").string(), design = (scratch / "box.quoin.json").string();
    REQUIRE(mesh::writeStl(model, mesh::box({0, 0, 0}, {90, 80, 240})).ok());
    REQUIRE(quoinRan({"split", model, "--plane", "0,0,1@120", "--save", design, "--no-pictures"}).status == 0);
    return design;
}

Ran joints(const std::string& design, std::vector<std::string> more)
{
    more.insert(more.begin(), {"joints", design, "--face", "A"});
    return quoinRan(more);
}

} // namespace

TEST_CASE("joints verb: what is refused leaves the saved design as it was")
{
    const ScratchFolder scratch;
    const std::string design = boxDesign(scratch);
    REQUIRE(joints(design, {"--place", "dowel"}).status == 0);
    const std::string before = contentOf(design);
    const std::vector<std::vector<std::string>> refused{
        {"--place", "screw", "--diameter", "500"}, // thicker than any; this one used to be saved
        {"--place", "bolt"},
        {"--place", "screw", "--thread", "M40"},
        {"--place", "screw", "--depth", "-5"},
        {"--place", "screw", "--section", "D"},
        {"--place", "dowel", "--rod", "wood", "--keyed"},
        {"--place", "dowel", "--at", "5"},
        {"--remove", "2"},
        {"--depth", "30"}, // of what?
        {"--plain", "--auto"},
        {"--plain", "--place", "dowel"},
    };
    for (const auto& arguments : refused) {
        const Ran r = joints(design, arguments);
        INFO(arguments.back() << ": " << r.output << r.error);
        CHECK(r.status == 2);
        CHECK_FALSE(r.error.empty());
        CHECK(contentOf(design) == before);
    }
}

TEST_CASE("joints verb: a design with a joint that can't be made is mended by taking it away")
{
    const ScratchFolder scratch;
    const std::string design = boxDesign(scratch);
    REQUIRE(joints(design, {"--place", "dowel", "--diameter", "7"}).status == 0);
    std::string text = contentOf(design);
    const std::size_t at = text.find("\"diameter_mm\": 7");
    REQUIRE(at != std::string::npos);
    text.replace(at, 16, "\"diameter_mm\": 700");
    for (const std::vector<std::string>& way : {std::vector<std::string>{"--auto"}, {"--plain"}, {"--remove", "1"}}) {
        putContent(design, text);
        const Ran r = joints(design, way);
        INFO(way[0] << ": " << r.output << r.error);
        CHECK(r.status == 0);
        CHECK(quoinRan({"joints", design}).status == 0);
    }
}
