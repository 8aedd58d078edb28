// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/console.h"
#include "app/report.h"
#include "app/verbs.h"

#include "core/material.h"
#include "core/split_job.h"
#include "mesh/atomic_file.h"
#include "mesh/mass.h"
#include "mesh/write_model.h"
#include "sample_models/heron.h"
#include "ui/picture.h"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <deque>

namespace quoin::app {

namespace fs = std::filesystem;

namespace {

struct DemoOptions {
    std::string out = "demo-output";
    std::string bed = "300x300x400";
    double scale = 7;
    bool force = false;
};

/// One part of the sculpture, made large.
struct LargePart {
    const samples::HeronPart* small = nullptr;
    core::Project project;
    std::vector<mesh::Mesh> jointed; ///< assembled frame of the scaled part
    core::Proof proof;
};

Status mayWrite(const fs::path& folder, bool force)
{
    std::error_code error;
    if (!fs::exists(folder, error) || fs::is_empty(folder, error) || (force && fs::exists(folder / "demo.json", error)))
        return Done{};
    return Problem{Reason::FileExists,
                   "the folder is not empty",
                   folder.string(),
                   {},
                   "Choose another folder (--out), or replace an earlier demo with --force."};
}

Result<LargePart> enlarge(const samples::HeronPart& small, const fs::path& model, const fs::path& folder,
                          const DemoOptions& o, const Context& context)
{
    core::SplitRequest request;
    request.file = model;
    request.scaling = {core::Scaling::How::Factor, o.scale};
    auto bed = core::bedFromText(o.bed, {});
    if (!bed)
        return bed.problem();
    request.beds = {*bed};
    auto project = core::split(request, context);
    if (!project)
        return project.problem();
    LargePart part{&small, std::move(*project), {}, {}};
    core::ExportOptions options;
    options.force = true;
    options.draw = [&](const fs::path& to, const core::Project& p, const std::vector<mesh::Mesh>& jointed) {
        part.jointed = jointed;
        return ui::drawPictures(to, p, jointed);
    };
    auto exported = core::exportProject(part.project, folder, options, context);
    if (!exported)
        return exported.problem();
    part.proof = std::move(exported->proof);
    return part;
}

/// The whole sculpture at its large size, every piece in its colour.
Status drawHeron(const fs::path& png, const std::deque<LargePart>& parts, double scale)
{
    ui::Scene scene;
    scene.person = true;
    scene.floor = true;
    scene.viewFrom = {1.0, -1.3, 0.45};
    const std::vector<ui::Colour>& colours = ui::pieceColours();
    std::size_t pieces = 0;
    for (const LargePart& part : parts)
        for (mesh::Transform pose : part.small->poses) {
            for (const std::size_t i : {3u, 7u, 11u})
                pose.m[i] *= scale;
            for (const mesh::Mesh& piece : part.jointed) {
                scene.items.push_back({&piece, pose, colours[pieces % colours.size()], {}});
                ++pieces;
            }
        }
    scene.caption = fmt::format("The river heron, {:g} times as large: {} printed pieces", scale, pieces);
    return ui::drawScene(png, scene);
}

nlohmann::json summaryOf(const LargePart& part)
{
    double volume = 0;
    for (const mesh::Mesh& m : part.jointed)
        volume += mesh::volume(m);
    const core::Material* material = core::findMaterial(part.project.part.material);
    return {{"part", part.small->name},
            {"quantity", part.small->quantity},
            {"pieces", part.project.pieces.size()},
            {"lower_bound", part.project.suggestion.bound.pieces},
            {"joints", part.project.layout.joints.size()},
            {"claims", part.proof.claims.size()},
            {"proved", part.proof.holds()},
            {"solid_mass_kg", volume / 1e6 * material->densityGPerCm3}};
}

int demo(const DemoOptions& o, const Context& context)
{
    const fs::path folder = o.out;
    if (const Status s = mayWrite(folder, o.force); !s)
        return say(s.problem());
    std::error_code error;
    fs::create_directories(folder / "model", error);
    if (error)
        return say({Reason::FileUnwritable, "can't write here: " + error.message(), folder.string(), {}, {}});
    context.report(0, "making the heron");
    const std::vector<samples::HeronPart> parts = samples::heronParts();
    std::deque<LargePart> large;
    nlohmann::json summary = nlohmann::json::array();
    fmt::print("{:<16} {:>4} {:>7} {:>6} {:>7} {:>8} {:>14}\n", "part", "made", "pieces", "bound", "joints", "claims",
               "solid mass, kg");
    for (const samples::HeronPart& small : parts) {
        const fs::path model = folder / "model" / (small.name + ".stl");
        if (const Status s = mesh::writeStl(model, small.mesh); !s)
            return say(s.problem());
        auto part = enlarge(small, model, folder / small.name, o, context);
        if (!part) {
            Problem problem = part.problem();
            problem.what = small.name + ": " + problem.what;
            return say(problem);
        }
        large.push_back(std::move(*part));
        const nlohmann::json line = summaryOf(large.back());
        clearProgress();
        fmt::print("{:<16} {:>4} {:>7} {:>6} {:>7} {:>8} {:>14.2f}\n", small.name, small.quantity,
                   line["pieces"].get<int>(), line["lower_bound"].get<int>(), line["joints"].get<int>(),
                   line["proved"].get<bool>() ? fmt::format("{} hold", line["claims"].get<int>()) : "FAIL",
                   line["solid_mass_kg"].get<double>());
        std::fflush(stdout);
        summary.push_back(line);
    }
    for (const Status& s : {drawHeron(folder / "heron.png", large, o.scale),
                            mesh::writeAtomically(folder / "demo.json", summary.dump(1) + "\n")})
        if (!s)
            return say(s.problem());
    fmt::print("Each folder in {} holds the pieces, the proof (proof.html) and pictures; heron.png shows the whole.\n",
               folder.string());
    return Ok;
}

} // namespace

void addDemo(CLI::App& app, Work& run)
{
    auto o = std::make_shared<DemoOptions>();
    CLI::App* verb = app.add_subcommand("demo", "Make the sample heron large: split, joint and prove all its parts");
    verb->add_option("--out", o->out, "Folder to write (default demo-output)");
    verb->add_option("--bed", o->bed, "Bed (default 300x300x400)");
    verb->add_option("--scale", o->scale, "Factor (default 7)")->check(CLI::PositiveNumber);
    verb->add_flag("--force", o->force, "Replace an earlier demo in the folder");
    verb->callback([o, &run] { run = [o](const Context& context) { return demo(*o, context); }; });
}

} // namespace quoin::app
