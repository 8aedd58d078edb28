// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/csv_text.h"
#include "core/export.h"
#include "core/print_project.h"
#include "core/split_job.h"
#include "mesh/primitives.h"
#include "mesh/write_model.h"
#include "tests/support/model_text.h"
#include "tests/support/scratch.h"

#include <catch2/catch.hpp>

using namespace quoin;
using namespace quoin::core;
using namespace quoin::test;

namespace {

EstimatedPiece piece(const char* part, const char* machine, const char* material, int count, double grams, double hours)
{
    EstimatedPiece p;
    p.part = part;
    p.machine = machine;
    p.material = material;
    p.name = std::string(part) + " 1";
    p.count = count;
    p.each.grams = grams;
    p.each.hours = hours;
    p.each.likelyHours = {0.8 * hours, 1.3 * hours};
    p.each.materialCost = grams / 50;
    p.each.machineCost = hours / 4;
    p.each.shares[0] = {grams / 2, hours / 2};
    return p;
}

ProjectEstimate sample()
{
    ProjectEstimate e;
    e.pieces = {piece("neck", "big one", "PLA", 2, 500, 10), piece("neck", "small one", "PLA", 5, 20, 1),
                piece("wing, left", "big one", "PETG", 1, 1150, 30)};
    e.filaments = {shippedFilaments()[0], shippedFilaments()[1]};
    e.filaments[1].spoolG = 2300;
    return e;
}

/// One part of a block, for what an export would print.
PartToPrint block(int quantity)
{
    PartToPrint part{
        "block", "PLA", "big one", quantity, {}, std::make_shared<mesh::Mesh>(mesh::box({0, 0, 0}, {5, 4, 3})), 10};
    ListedPart line;
    line.number = 1;
    line.kind = "piece";
    line.name = "block 1";
    line.count = 2;
    line.mesh = mesh::box({0, 0, 0}, {25, 40, 30});
    part.list = {line};
    return part;
}

} // namespace

TEST_CASE("print totals: copies are counted, by part, machine, material and in all")
{
    const ProjectEstimate e = sample();
    const PrintTotals all = e.all();
    CHECK(all.prints == 8);
    CHECK(all.grams == Approx(2 * 500 + 5 * 20 + 1150));
    CHECK(all.hours == Approx(20 + 5 + 30));
    CHECK(all.likelyHours.low == Approx(0.8 * 55));
    CHECK(all.likelyHours.high == Approx(1.3 * 55));
    CHECK(all.money() == Approx(2250 / 50.0 + 55 / 4.0));
    CHECK(all.spools == Approx(1.1 + 0.5)); // 1100 g of 1000 g spools, 1150 g of 2300 g spools
    CHECK(all.shares[0].grams == Approx(1125));
    REQUIRE(e.byPart().size() == 2);
    CHECK(e.byPart()[0].totals.grams == Approx(1100));
    REQUIRE(e.byMachine().size() == 2);
    CHECK(e.byMachine()[0].name == "big one");
    CHECK(e.byMachine()[0].totals.hours == Approx(50));
    CHECK(e.byMaterial()[1].totals.grams == Approx(1150));
}

TEST_CASE("print totals: JSON and CSV say the same")
{
    const ProjectEstimate e = sample();
    const auto json = toJson(e);
    CHECK(json["kind"] == "quoin estimate");
    CHECK(json["totals"]["mass_g"].get<double>() == Approx(2250));
    CHECK(json["pieces"][2]["part"] == "wing, left");
    CHECK(json["by_machine"][1]["time_h"].get<double>() == Approx(5));
    CHECK_FALSE(json["caution"].get<std::string>().empty());
    const auto lines = csvLines(toCsv(e)).value();
    REQUIRE(lines.size() == 4);
    for (const CsvLine& line : lines)
        CHECK(line.fields.size() == lines[0].fields.size());
    CHECK(lines[3].fields[0] == "wing, left");
    CHECK(lines[3].fields[9] == "1150.00");
}

TEST_CASE("print project: sets and copies multiply, and the machine and material asked for count")
{
    PrintSetup setup;
    setup.recipe = "0.8 strong";
    const auto one = estimateParts({block(1)}, setup).value();
    const auto three = estimateParts({block(3)}, setup).value();
    REQUIRE(one.pieces.size() == 1);
    CHECK(one.pieces[0].count == 2);
    CHECK(three.pieces[0].count == 6);
    CHECK(three.all().grams == Approx(3 * one.all().grams));
    CHECK(one.pieces[0].machine == "big one");
    setup.material = "ABS";
    setup.machine = "other";
    const auto abs = estimateParts({block(1)}, setup).value();
    CHECK(abs.pieces[0].machine == "other");
    CHECK(abs.all().grams == Approx(one.all().grams * 1.05 / 1.24)); // densities of the two
    setup.recipe = "0.5 wild";
    CHECK(estimateParts({block(1)}, setup).problem().reason == Reason::BadArgument);
    setup = {};
    setup.material = "brass";
    CHECK(estimateParts({block(1)}, setup).problem().reason == Reason::BadArgument);
}

TEST_CASE("print project: a piece too thin for a layer is left out and named")
{
    PartToPrint part = block(1);
    part.list.push_back(part.list[0]);
    part.list[1].name = "shim";
    part.list[1].mesh = mesh::box({0, 0, 0}, {20, 20, 0.01});
    const auto e = estimateParts({part}, {}).value();
    CHECK(e.pieces.size() == 1);
    REQUIRE(e.notes.size() == 1);
    CHECK(e.notes[0].text.find("shim") != std::string::npos);
}

TEST_CASE("print project: small and large side by side, also for parts together")
{
    PartToPrint part = block(1);
    const auto e = estimateParts({part}, {}).value();
    const auto rows = scalingOf(part, e, {}).value();
    bool seen = false;
    for (const ScalingRow& r : rows) {
        if (r.id == "mass")
            CHECK(r.large == Approx(60000 * 1.24 / 1000)); // 50 x 40 x 30 mm solid
        if (r.id == "printed_mass") {
            seen = true;
            CHECK(r.large == Approx(e.all().grams));
            CHECK(r.small > 0);
        }
    }
    CHECK(seen);
    PartToPrint other = block(2);
    other.name = "other";
    const auto both = estimateParts({part, other}, {}).value();
    const auto together = scalingOfAll({part, other}, both, {}).value();
    for (const ScalingRow& r : together)
        if (r.id == "mass")
            CHECK(r.large == Approx(3 * 60000 * 1.24 / 1000));
    other.scale = 11;
    CHECK(scalingOfAll({part, other}, both, {}).value().empty());
}

TEST_CASE("print project: an export holds its estimate, read back from the folder alike")
{
    const ScratchFolder scratch;
    REQUIRE(mesh::writeStl(scratch / "box.stl", mesh::box({0, 0, 0}, {30, 10, 10})).ok());
    SplitRequest request;
    request.file = scratch / "box.stl";
    request.scaling = {Scaling::How::Factor, 8};
    request.beds = {bedFromText("150x150x150", {}).value()};
    const auto project = split(request);
    REQUIRE(project.ok());
    ExportOptions options;
    options.printing.recipe = "0.8 strong";
    const auto exported = exportProject(*project, scratch / "out", options);
    REQUIRE(exported.ok());
    CHECK(exported->estimate.pieces.size() == exported->pieceFiles);
    const auto written = nlohmann::json::parse(contentOf(scratch / "out/estimate.json"));
    CHECK(written["totals"]["mass_g"].get<double>() == Approx(exported->estimate.all().grams));
    const auto part = partFromExport(scratch / "out");
    REQUIRE(part.ok());
    CHECK(part->scale == 8);
    PrintSetup setup;
    setup.recipe = "0.8 strong";
    CHECK(estimateParts({*part}, setup)->all().grams == Approx(exported->estimate.all().grams));
    // No more than solid, and more than the walls alone.
    double solid = 0;
    for (const auto& p : nlohmann::json::parse(contentOf(scratch / "out/pieces.json"))["pieces"])
        solid += p["count"].get<double>() * p["solid_mass_g"].get<double>();
    CHECK(exported->estimate.all().grams < solid * 1.1);
    CHECK(exported->estimate.all().grams > solid * 0.3);
    // A recipe that isn't there stops no export.
    options.force = true;
    options.printing.recipe = "0.5 wild";
    const auto other = exportProject(*project, scratch / "out", options);
    REQUIRE(other.ok());
    CHECK(other->estimate.pieces.empty());
    REQUIRE(other->estimate.notes.size() == 1);
    // A damaged list is named.
    putContent(scratch / "out/pieces.json",
               R"({"pieces": [{"number": 1, "kind": "piece", "name": "x", "file": "../x.stl",
                                                 "count": 1, "bed": "b"}]})");
    const auto damaged = partFromExport(scratch / "out");
    REQUIRE_FALSE(damaged.ok());
    CHECK(damaged.problem().place == "/pieces/0/file");
}
