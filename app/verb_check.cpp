// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/console.h"
#include "app/unit_option.h"
#include "app/verbs.h"

#include "mesh/health.h"
#include "mesh/model_file.h"
#include "mesh/repair.h"
#include "mesh/write_model.h"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <iostream>

namespace quoin::app {

namespace {

using nlohmann::json;

struct CheckOptions {
    std::vector<std::string> files;
    std::string unit;
    bool asJson = false;
    std::string repairedTo;
};

json jsonOf(const mesh::Topology& t)
{
    return {{"open_edges", t.openEdges},
            {"non_manifold_edges", t.nonManifoldEdges},
            {"non_manifold_vertices", t.nonManifoldVertices},
            {"flipped_edges", t.flippedEdges},
            {"duplicate_faces", t.duplicateTriangles},
            {"degenerate_faces", t.degenerateTriangles}};
}

json jsonOf(const mesh::BodyHealth& b)
{
    json j = jsonOf(b.topology);
    j["triangles"] = b.triangles;
    j["self_intersecting_pairs"] = b.selfIntersectingPairs;
    j["volume_mm3"] = b.volumeMm3;
    j["area_mm2"] = b.areaMm2;
    j["extents_mm"] = {b.extentsMm.x, b.extentsMm.y, b.extentsMm.z};
    j["thinnest_wall_mm"] = b.thinnestWallMm ? json(*b.thinnestWallMm) : json(nullptr);
    return j;
}

json jsonOf(const std::string& file, const mesh::Model& model, const mesh::Health& health)
{
    json j = jsonOf(health.topology);
    j["file"] = file;
    j["format"] = mesh::formatName(model.format);
    j["unit"] = mesh::unitName(model.unit);
    j["sound"] = health.sound();
    j["triangles"] = health.triangles;
    j["self_intersecting_pairs"] = health.selfIntersectingPairs;
    j["volume_mm3"] = health.volumeMm3;
    j["area_mm2"] = health.areaMm2;
    j["extents_mm"] = {health.extentsMm.x, health.extentsMm.y, health.extentsMm.z};
    j["bodies"] = json::array();
    for (const mesh::BodyHealth& b : health.bodies)
        j["bodies"].push_back(jsonOf(b));
    j["notes"] = json::array();
    for (const std::vector<Note>* notes : {&model.notes, &health.notes})
        for (const Note& n : *notes)
            j["notes"].push_back({{"text", n.text}, {"place", n.place}});
    return j;
}

void print(const std::string& file, const mesh::Model& model, const mesh::Health& health)
{
    fmt::print("{}: {}\n", file, health.sound() ? "sound, ready to cut" : "not ready to cut");
    fmt::print("  {}, unit {}; {} triangles in {} {}\n", mesh::formatName(model.format), mesh::unitName(model.unit),
               health.triangles, health.bodies.size(), health.bodies.size() == 1 ? "body" : "bodies");
    fmt::print("  extents {:.3f} x {:.3f} x {:.3f} mm, volume {:.3f} cm3, surface {:.3f} cm2\n", health.extentsMm.x,
               health.extentsMm.y, health.extentsMm.z, health.volumeMm3 / 1e3, health.areaMm2 / 1e2);
    const mesh::Topology& t = health.topology;
    fmt::print("  open edges {}, non-manifold edges {}, non-manifold vertices {}, flipped {}, duplicate faces {}, "
               "degenerate faces {}, self-intersecting pairs {}\n",
               t.openEdges, t.nonManifoldEdges, t.nonManifoldVertices, t.flippedEdges, t.duplicateTriangles,
               t.degenerateTriangles, health.selfIntersectingPairs);
    constexpr std::size_t mostBodies = 12;
    for (std::size_t i = 0; i < health.bodies.size() && i < mostBodies; ++i) {
        const mesh::BodyHealth& b = health.bodies[i];
        fmt::print("  body {}: {} triangles, {:.2f} x {:.2f} x {:.2f} mm, {:.3f} cm3{}\n", i + 1, b.triangles,
                   b.extentsMm.x, b.extentsMm.y, b.extentsMm.z, b.volumeMm3 / 1e3,
                   b.thinnestWallMm ? fmt::format(", thinnest wall found {:.2f} mm (sampled)", *b.thinnestWallMm) : "");
    }
    if (health.bodies.size() > mostBodies)
        fmt::print("  and {} more bodies (--json lists all)\n", health.bodies.size() - mostBodies);
    for (const std::vector<Note>* notes : {&model.notes, &health.notes})
        for (const Note& n : *notes)
            fmt::print("  note: {}{}\n", n.text, n.place.empty() ? "" : " (" + n.place + ")");
}

int writeRepaired(const CheckOptions& o, const mesh::Mesh& model, const Context& context)
{
    if (std::filesystem::exists(o.repairedTo))
        return say({Reason::FileExists, "the file is already there", o.repairedTo, {}, "Choose another name."});
    const auto mended = mesh::repaired(model, {}, context);
    if (!mended) {
        Problem problem = mended.problem();
        problem.file = o.files.front();
        return say(problem);
    }
    const mesh::RepairReport& r = mended->report;
    for (const std::string& change : r.changes)
        fmt::print("  repaired: {}\n", change);
    if (r.changes.empty())
        fmt::print("  nothing to repair\n");
    fmt::print("  volume {:.3f} to {:.3f} mm3, surface {:.3f} to {:.3f} mm2, moved by at most {:.4f} mm\n",
               r.volumeBeforeMm3, r.volumeAfterMm3, r.areaBeforeMm2, r.areaAfterMm2, r.surfaceMovedMm);
    const std::string extension = std::filesystem::path(o.repairedTo).extension().string();
    const Status s =
        extension == ".ply" ? mesh::writePly(o.repairedTo, mended->mesh) : mesh::writeStl(o.repairedTo, mended->mesh);
    return s ? static_cast<int>(Ok) : say(s.problem());
}

int check(const CheckOptions& o, const Context& context)
{
    const auto unit = unitOption(o.unit);
    if (!unit)
        return say(unit.problem());
    json all = json::array();
    int status = Ok;
    for (const std::string& file : o.files) {
        const auto model = mesh::readModel(file, {*unit}, context);
        if (!model) {
            status = say(model.problem());
            all.push_back({{"file", file}, {"error", model.problem().sentence()}});
            continue;
        }
        const mesh::Health health = mesh::healthOf(model->mesh, {}, context);
        clearProgress();
        if (o.asJson)
            all.push_back(jsonOf(file, *model, health));
        else
            print(file, *model, health);
        if (!o.repairedTo.empty())
            status = std::max(status, writeRepaired(o, model->mesh, context));
    }
    if (o.asJson)
        std::cout << (o.files.size() == 1 ? all.front() : all).dump(1) << "\n";
    return status;
}

} // namespace

void addCheck(CLI::App& app, Work& run)
{
    auto options = std::make_shared<CheckOptions>();
    CLI::App* verb = app.add_subcommand("check", "Health report of model files: STL, OBJ, PLY, OFF, 3MF");
    verb->add_option("files", options->files, "Model files")->required();
    verb->add_option("--unit", options->unit, "Unit of files that say none: mm (default), cm, m, inch");
    verb->add_flag("--json", options->asJson, "For programs");
    verb->add_option("--repair", options->repairedTo, "Also write a repaired copy to this new file (.stl or .ply)");
    verb->callback([options, &run] {
        if (!options->repairedTo.empty() && options->files.size() != 1)
            throw CLI::ValidationError("--repair", "takes one file at a time");
        run = [options](const Context& context) { return check(*options, context); };
    });
}

} // namespace quoin::app
