// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/primitives.h"
#include "mesh/write_model.h"
#include "tests/app/command.h"
#include "tests/support/model_text.h"
#include "tests/support/scratch.h"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>

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
        {"--place", "screw", "--taper", "2"}, // these four used to be passed over in silence
        {"--place", "dowel", "--grip", "20"},
        {"--place", "key", "--length", "50"},
        {"--place", "stud", "--keyed"},
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

TEST_CASE("joints verb: says where a face lies, and the default dovetail stays on it")
{
    const ScratchFolder scratch;
    const std::string design = boxDesign(scratch);
    const Ran listed = quoinRan({"joints", design, "--json"});
    REQUIRE(listed.status == 0);
    const auto face = nlohmann::json::parse(listed.output).at(0).at("faces").at(0);
    // A cut across z at 120 mm through a box of 90 x 80 mm: a rectangle with its corner at the foot of the z axis.
    const auto frame = face.at("frame");
    CHECK(frame.at("origin_mm").get<std::vector<double>>() == std::vector<double>{0, 0, 120});
    const double x = face.at("x_mm")[1].get<double>() - face.at("x_mm")[0].get<double>();
    const double y = face.at("y_mm")[1].get<double>() - face.at("y_mm")[0].get<double>();
    CHECK(std::min(x, y) == Approx(80));
    CHECK(std::max(x, y) == Approx(90));
    CHECK(face.at("area_mm2").get<double>() == Approx(x * y));
    CHECK(quoinRan({"joints", design}).output.find("its 0,0 is at (0, 0, 120) of the part") != std::string::npos);

    const Ran placed = joints(design, {"--place", "dovetail", "--json"});
    INFO(placed.output << placed.error);
    REQUIRE(placed.status == 0);
    const auto joint = nlohmann::json::parse(placed.output).at(0).at("faces").at(0).at("joints").at(0);
    const double along = joint.at("length_mm").get<double>(), angle = joint.at("angle_rad").get<double>();
    const double endX = joint.at("at_mm")[0].get<double>() + along * std::cos(angle);
    const double endY = joint.at("at_mm")[1].get<double>() + along * std::sin(angle);
    CHECK(along >= 1);
    CHECK(endX <= face.at("x_mm")[1].get<double>());
    CHECK(endX >= face.at("x_mm")[0].get<double>());
    CHECK(endY <= face.at("y_mm")[1].get<double>());
    CHECK(endY >= face.at("y_mm")[0].get<double>());
    CHECK_FALSE(joint.contains("fault"));
}
