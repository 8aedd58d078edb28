// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
//
// quoin_make_heron OUTDIR: writes the small heron, a binary STL for each part, and assembly.json, which says how many
// of each there are and where they go.
#include "mesh/atomic_file.h"
#include "mesh/write_model.h"
#include "sample_models/heron.h"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <filesystem>

namespace {

namespace fs = std::filesystem;
using namespace quoin;
using nlohmann::json;

json numbers(mesh::Vec3 v)
{
    return {v.x, v.y, v.z};
}

json described(const samples::HeronPart& part, const std::string& file)
{
    json poses = json::array();
    for (const mesh::Transform& pose : part.poses)
        poses.push_back(pose.m);
    json axes = json::array();
    for (const samples::HeronAxis& axis : part.axes)
        axes.push_back({{"name", axis.name},
                        {"point", numbers(axis.point)},
                        {"direction", numbers(axis.direction)},
                        {"radiusMm", axis.radiusMm},
                        {"hole", axis.hole}});
    return {{"name", part.name}, {"file", file}, {"quantity", part.quantity}, {"poses", poses}, {"axes", axes}};
}

Problem alreadyThere(const fs::path& file)
{
    return {Reason::FileExists, "there is such a file already", file.string(), "", "Name an empty folder."};
}

Status writeHeron(const fs::path& folder)
{
    std::error_code error;
    fs::create_directories(folder, error);
    if (error || !fs::is_directory(folder))
        return Problem{Reason::FileUnwritable, "this folder can't be made", folder.string(), "",
                       "Name a folder that you may write to."};
    const fs::path assembly = folder / "assembly.json";
    if (fs::exists(assembly))
        return alreadyThere(assembly);
    const std::vector<samples::HeronPart> parts = samples::heronParts();
    json list = json::array();
    for (const samples::HeronPart& part : parts) {
        const std::string name = part.name + ".stl";
        if (fs::exists(folder / name))
            return alreadyThere(folder / name);
        list.push_back(described(part, name));
    }
    for (const samples::HeronPart& part : parts)
        if (const Status done = mesh::writeStl(folder / (part.name + ".stl"), part.mesh); !done)
            return done;
    const json document{{"what", "a small kinetic heron: parts as printed, and their places (row-major 4 x 4, part to "
                                 "sculpture; x forward, y the heron's left, z up)"},
                        {"unit", "mm"},
                        {"crankDegrees", samples::heronShowDegrees},
                        {"parts", list}};
    return mesh::writeAtomically(assembly, document.dump(2) + "\n");
}

} // namespace

int main(int argc, char** argv)
{
    if (argc != 2) {
        fmt::print(stderr, "usage: quoin_make_heron OUTDIR\n");
        return 2;
    }
    const Status done = writeHeron(argv[1]);
    if (!done) {
        fmt::print(stderr, "{}\n", done.problem().sentence());
        return 2;
    }
    return 0;
}
