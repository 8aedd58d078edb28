// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/cut_section.h"
#include "core/cut_terms.h"
#include "core/design_file.h"
#include "core/keep_clear.h"
#include "mesh/primitives.h"
#include "tests/app/command.h"
#include "tests/support/scratch.h"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

namespace quoin::test {

namespace {

/// A bar whose surface has rings of points at x = 85 and 115.
mesh::Mesh barWithStrip()
{
    mesh::Mesh bar;
    for (const double x : {0.0, 85.0, 115.0, 300.0})
        for (const auto& [y, z] : {std::pair{0.0, 0.0}, {40.0, 0.0}, {40.0, 40.0}, {0.0, 40.0}})
            bar.points.push_back({x, y, z});
    for (mesh::Index ring = 0; ring < 3; ++ring)
        for (mesh::Index i = 0; i < 4; ++i) {
            const mesh::Index a = 4 * ring + i, b = 4 * ring + (i + 1) % 4;
            bar.triangles.push_back({a, b + 4, a + 4});
            bar.triangles.push_back({a, b, b + 4});
        }
    for (const auto& t : {mesh::Triangle{0, 2, 1}, {0, 3, 2}, {12, 13, 14}, {12, 14, 15}})
        bar.triangles.push_back(t);
    return bar;
}

/// A bar of 300 mm with a bed of 110: three pieces, or more where the usual places are marked.
core::Design barDesign(bool marked)
{
    core::PartDesign part;
    part.name = "bar";
    part.source = std::make_shared<const mesh::Mesh>(mesh::box({0, 0, 0}, {300, 40, 40}));
    if (marked) {
        // Its long sides are marked where an even cut would pass: one strip of the bar, cut by planes before.
        part.source = std::make_shared<const mesh::Mesh>(barWithStrip());
        for (mesh::Index t = 0; t < part.source->triangles.size(); ++t) {
            bool inside = true;
            for (int k = 0; k < 3; ++k)
                inside = inside && part.source->corner(t, k).x > 84 && part.source->corner(t, k).x < 116;
            if (inside)
                part.keepClear.push_back(t);
        }
    }
    core::Design design;
    design.beds = {{"b", core::Bed::Shape::Rectangular, 120, 120, 120, 1}};
    return core::withPart(design, part);
}

} // namespace

TEST_CASE("command line: suggested cuts are saved in the design, and keep clear of marked places")
{
    const ScratchFolder scratch;
    const auto file = scratch / "bar.quoin.json";
    core::MeshKeeper keeper;
    const core::Design design = barDesign(true);
    REQUIRE(core::saveDesign(design, file, keeper).ok());
    const Ran r = quoinRan({"suggest", file.string(), "--seconds", "2", "--json"});
    INFO(r.output << r.error);
    REQUIRE(r.status == 0);
    CHECK(nlohmann::json::parse(r.output)["parts"][0]["terms"]["pieces"].get<int>() >= 3);
    const auto saved = core::openDesign(file, keeper);
    REQUIRE(saved.ok());
    const core::PartDesign& part = saved->design.parts.at(0);
    REQUIRE(part.cuts.size() >= 2);
    const core::KeepClear clear(*part.source, part.keepClear);
    for (const core::CutStep& cut : part.cuts) {
        std::vector<core::HalfSpace> cell;
        for (const auto& [plane, above] : core::limitsOf(part, cut.within))
            cell.push_back({plane, above});
        CHECK_FALSE(clear.crossedBy(cut.plane, cell));
    }
}

TEST_CASE("command line: suggested ways are told term by term, by cut and in total, and one is taken")
{
    const ScratchFolder scratch;
    const auto file = scratch / "bar.quoin.json";
    core::MeshKeeper keeper;
    REQUIRE(core::saveDesign(barDesign(false), file, keeper).ok());
    const Ran r = quoinRan({"suggest", file.string(), "--seconds", "2", "--seed", "4", "--prefer", "hidden-seams",
                            "--weights", "area=3", "--more-pieces", "1", "--alternatives", "2", "--json"});
    INFO(r.output << r.error);
    REQUIRE(r.status == 0);
    const auto part = nlohmann::json::parse(r.output)["parts"][0];
    CHECK(part["taken"] == 1);
    REQUIRE(part["ways"].size() >= 1);
    REQUIRE(part["ways"].size() <= 2);
    for (const auto& way : part["ways"]) {
        CHECK(way["seed"] == 4);
        CHECK(way["gap"] == way["pieces"].get<int>() - way["lower_bound"].get<int>());
        CHECK(way["lower_bound"] == 2); // 193.5 mm corner to corner
        CHECK_FALSE(way["lower_bound_reason"].get<std::string>().empty());
        CHECK(way["found_after_s"].get<double>() > 0);
        const auto& judged = way["judged"];
        CHECK(judged["weights"]["area"] == 3);
        CHECK(judged["weights"]["seams"] == core::weightsFor(core::CutPreference::HiddenSeams).seams);
        double sum = 0;
        for (const auto& cut : judged["cuts"])
            sum += cut["weighed"].get<double>();
        CHECK(judged["total"]["weighed"].get<double>() == Approx(sum));
        CHECK(judged["cuts"].size() + 1 == way["pieces"].get<std::size_t>());
    }
    // For people: a table a way, and the one that is taken marked.
    const Ran plain = quoinRan({"suggest", file.string(), "--seconds", "1", "--afresh"});
    REQUIRE(plain.status == 0);
    CHECK(plain.output.find("* 1: 3 pieces; no way needs fewer than 2") != std::string::npos);
    for (const char* word : {"by cut", "all cuts", "weight", "Slivers", "Symmetry"})
        CHECK(plain.output.find(word) != std::string::npos);
    for (const std::vector<std::string>& wrong : {std::vector<std::string>{"--prefer", "prettiest"},
                                                  {"--weights", "colour=1"},
                                                  {"--more-pieces", "99"},
                                                  {"--alternatives", "0"},
                                                  {"--take", "0"}}) {
        std::vector<std::string> command{"suggest", file.string()};
        command.insert(command.end(), wrong.begin(), wrong.end());
        CHECK(quoinRan(command).status == 2);
    }
}

TEST_CASE("command line: suggest says no to a part, a bed and a file that aren't there")
{
    const ScratchFolder scratch;
    const auto file = scratch / "bar.quoin.json";
    core::MeshKeeper keeper;
    REQUIRE(core::saveDesign(barDesign(false), file, keeper).ok());
    CHECK(quoinRan({"suggest", file.string(), "--part", "wing"}).status == 2);
    CHECK(quoinRan({"suggest", file.string(), "--bed", "hut"}).status == 2);
    CHECK(quoinRan({"suggest", (scratch / "no.quoin.json").string()}).status == 2);
    CHECK(core::openDesign(file, keeper)->design.parts.at(0).cuts.empty());
}

} // namespace quoin::test
