// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/mass.h"
#include "mesh/model_file.h"
#include "mesh/plane_cut.h"
#include "mesh/primitives.h"
#include "mesh/recess.h"
#include "mesh/write_model.h"
#include "tests/bench/bench.h"

#include <fmt/format.h>

#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <malloc.h>
#include <optional>
#include <sys/wait.h>
#include <unistd.h>

namespace quoin::bench {

namespace {

using mesh::Mesh;
using mesh::Plane;

constexpr int quickRuns = 9, slowRuns = 3;

/// The least work that any cut must do: classify all vertices, copy all triangles, fresh buffers.
void plainPass(const Mesh& m, const Plane& plane)
{
    mesh::Buffer<signed char> side;
    side.resize(m.points.size());
    for (std::size_t i = 0; i < m.points.size(); ++i)
        side[i] = plane.distance(m.points[i]) > 0 ? 1 : 0;
    mesh::Buffer<mesh::Triangle> low, high;
    low.resize(m.triangles.size());
    high.resize(m.triangles.size());
    std::array<mesh::Triangle*, 2> next{low.data(), high.data()};
    for (const mesh::Triangle& t : m.triangles)
        *next[side[t[0]] + side[t[1]] + side[t[2]] > 1 ? 1 : 0]++ = t;
    keep(low.data());
    keep(high.data());
}

std::string shown(const Times& t)
{
    return fmt::format("{:9.2f} ({:.2f} to {:.2f})", t.median, t.least, t.most);
}

void line(const std::string& what, const Times& t, const Times& own)
{
    fmt::print("  {:<46} {:<34} {:8.2f} x ours\n", what, shown(t), t.median / own.median);
    std::fflush(stdout);
}

std::optional<Times> manifoldSplit(const Mesh& m, const Plane& p)
{
    const std::filesystem::path module = std::string(QUOIN_NPM_MODULES) + "/manifold-3d/manifold.js";
    if (!std::filesystem::exists(module))
        return std::nullopt;
    const std::string file =
        (std::filesystem::temp_directory_path() / fmt::format("quoin-bench-{}", getpid())).string();
    {
        std::ofstream out(file, std::ios::binary);
        const std::array<std::uint32_t, 2> counts{static_cast<std::uint32_t>(m.points.size()),
                                                  static_cast<std::uint32_t>(m.triangles.size())};
        out.write(reinterpret_cast<const char*>(counts.data()), sizeof counts);
        for (const mesh::Vec3 q : m.points) {
            const std::array<float, 3> f{static_cast<float>(q.x), static_cast<float>(q.y), static_cast<float>(q.z)};
            out.write(reinterpret_cast<const char*>(f.data()), sizeof f);
        }
        out.write(reinterpret_cast<const char*>(m.triangles.data()),
                  static_cast<std::streamsize>(m.triangles.size() * sizeof(mesh::Triangle)));
    }
    const std::string command =
        fmt::format("node '{}/peer_manifold.mjs' '{}' '{}' {} {} {} {} {}", QUOIN_BENCH_DIR, module.string(), file,
                    p.normal.x, p.normal.y, p.normal.z, p.offset, slowRuns);
    Times t;
    FILE* pipe = popen(command.c_str(), "r");
    const bool read = pipe != nullptr && std::fscanf(pipe, "%lf %lf %lf", &t.median, &t.least, &t.most) == 3;
    if (pipe != nullptr)
        pclose(pipe);
    std::filesystem::remove(file);
    return read ? std::optional(t) : std::nullopt;
}

void benchCut(const NamedModel& model, const Plane& plane, const std::string& how)
{
    const Mesh& m = model.mesh;
    fmt::print("\ncut: {}, {} triangles, {}; both halves capped\n", model.name, m.triangles.size(), how);
    const auto cut = [&](int threads) {
        return timed(quickRuns, [&] {
            const auto halves = mesh::cutByPlane(m, plane, {1, false, threads});
            keep(&halves.value());
        });
    };
    const Times floor = timed(quickRuns, [&] { plainPass(m, plane); });
    const Times own = cut(1), two = cut(2);
    fmt::print("  {:<46} {:<34}\n", "ours, one thread", shown(own));
    line("ours, two threads", two, own);
    line("plain pass: classify vertices, copy triangles", floor, own);
    fmt::print("  {:<46} {:.2f} times the plain pass (goal at 1.1 million: 4)\n", "ours, one thread, is",
               own.median / floor.median);
    line("VTK clip of a closed surface, one half (goal 6)", vtkClipOneHalf(m, plane, slowRuns), own);
    line("CGAL clip, one half (goal 80)", cgalClipOneHalf(m, plane, slowRuns), own);
    if (const auto t = manifoldSplit(m, plane))
        line("manifold-3d (WASM) split, both halves (goal 80)", *t, own);
}

/// A dowel's bore in a million-triangle piece: its face triangulated anew, against a difference on the whole mesh.
void benchBore(const NamedModel& model)
{
    const Plane plane = mesh::planeAt({0.31, 0.83, 0.47}, 1.2345);
    const auto halves = mesh::cutByPlane(model.mesh, plane);
    const Mesh& piece = halves->below;
    const mesh::Region face = mesh::faceOutline(piece, 1, plane);
    mesh::Vec2 best{0, 0};
    double room = 0;
    for (const mesh::Loop& loop : face)
        for (std::size_t i = 0; i < loop.size(); i += 7)
            for (std::size_t j = i + 7; j < loop.size(); j += 97) {
                const mesh::Vec2 p = 0.5 * (loop[i] + loop[j]);
                if (const double d = mesh::distanceToOutline(face, p); mesh::contains(face, p) && d > room) {
                    room = d;
                    best = p;
                }
            }
    const double radius = std::min(8.0, room / 2), depth = 15;
    mesh::Loop circle;
    for (int i = 0; i < 64; ++i)
        circle.push_back(best + mesh::Vec2{radius * std::cos(i * M_PI / 32), radius * std::sin(i * M_PI / 32)});
    const mesh::Recess bore{{{0, {circle}}, {depth, {circle}}}};
    const mesh::PlaneFrame f = mesh::frameOf(plane);
    const mesh::Transform place =
        mesh::Transform::translation(f.space(best, -depth)) * mesh::Transform::fromColumns(f.u, f.v, f.normal);
    const Mesh tool = mesh::transformed(mesh::cylinder(radius, 2 * depth, 64, 60), place);
    fmt::print("\nbore of {:.1f} mm sunk into a piece of {} triangles\n", 2 * radius, piece.triangles.size());
    const Times own = timed(quickRuns, [&] {
        const auto sunk = mesh::withRecesses(piece, 1, plane, {bore}, 1000001);
        keep(&sunk.value());
    });
    fmt::print("  {:<46} {:<34}\n", "ours", shown(own));
    line("CGAL difference on the whole mesh (goal 10)", cgalDifference(piece, tool, slowRuns), own);
}

void benchRead(const NamedModel& model)
{
    const auto file = std::filesystem::temp_directory_path() / fmt::format("quoin-bench-{}.stl", getpid());
    if (const Status s = mesh::writeStl(file, model.mesh); !s)
        return;
    fmt::print("\nread and weld a binary STL of {} triangles (in the page cache)\n", model.mesh.triangles.size());
    const Times raw = timed(quickRuns, [&] {
        std::ifstream in(file, std::ios::binary);
        std::vector<char> bytes(std::filesystem::file_size(file));
        in.read(bytes.data(), static_cast<std::streamsize>(bytes.size()));
        keep(bytes.data());
    });
    const Times own = timed(quickRuns, [&] {
        const auto read = mesh::readModel(file);
        keep(&read.value());
    });
    fmt::print("  {:<46} {:<34}\n", "ours", shown(own));
    line("reading its bytes", raw, own);
    fmt::print("  {:<46} {:.2f} times reading the bytes (goal 4)\n", "ours is", own.median / raw.median);
    std::filesystem::remove(file);
}

/// Peak memory of a cut, measured in a process of its own: high-water mark before and after.
void benchMemory(const NamedModel& model)
{
    const auto bytes = static_cast<double>(model.mesh.points.size() * sizeof(mesh::Vec3) +
                                           model.mesh.triangles.size() * sizeof(mesh::Triangle));
    std::fflush(stdout);
    if (const pid_t child = fork(); child == 0) {
        malloc_trim(0); // or the cut would live in memory that is already there
        std::ofstream("/proc/self/clear_refs") << "5" << std::flush; // start the high-water mark anew
        const auto now = [] {
            std::ifstream in("/proc/self/status");
            std::string word;
            while (in >> word && word != "VmHWM:") {
            }
            double kilobytes = 0;
            in >> kilobytes;
            return 1024 * kilobytes;
        };
        const double before = now();
        const auto halves = mesh::cutByPlane(model.mesh, mesh::planeAt({0.31, 0.83, 0.47}, 1.2345), {1, false, 1});
        keep(&halves.value());
        fmt::print("\nmemory of a cut of {} triangles: {:.2f} times the input mesh, both halves included (goal 3)\n",
                   model.mesh.triangles.size(), (now() - before) / bytes);
        std::fflush(stdout);
        std::_Exit(0);
    } else if (child > 0) {
        int status = 0;
        waitpid(child, &status, 0);
    }
}

} // namespace

int run(bool large)
{
    fmt::print("Times in ms: median (least to most). Ratios against peers in this run are what counts.\n");
    const std::vector<NamedModel> models = closedModels(large);
    for (const NamedModel& m : models) {
        benchCut(m, mesh::planeAt({0.31, 0.83, 0.47}, 1.2345), "oblique plane");
        if (m.name.find("sphere") != std::string::npos)
            benchCut(m, mesh::planeAt({0, 0, 1}, 0), "plane through 1024 and more vertices");
    }
    benchMemory(models[1]);
    benchBore(models[1]);
    benchRead(models[1]);
    return 0;
}

} // namespace quoin::bench

int main(int argc, char** argv)
{
    return quoin::bench::run(argc > 1 && std::string(argv[1]) == "--large");
}
