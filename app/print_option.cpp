// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/print_option.h"

#include "app/part_option.h"
#include "core/design_file.h"

#include <algorithm>
#include <filesystem>

namespace quoin::app {

namespace fs = std::filesystem;

namespace {

bool isExport(const fs::path& folder)
{
    std::error_code error;
    return fs::is_regular_file(folder / "pieces.json", error) &&
           fs::is_regular_file(folder / "project.quoin.json", error);
}

/// Folders of a folder that hold exports, by name.
std::vector<fs::path> exportsIn(const fs::path& folder)
{
    std::vector<fs::path> folders;
    std::error_code error;
    for (const auto& entry : fs::directory_iterator(folder, error))
        if (isExport(entry.path()))
            folders.push_back(entry.path());
    std::sort(folders.begin(), folders.end());
    return folders;
}

Result<std::vector<core::PartToPrint>> fromExports(const std::vector<fs::path>& folders,
                                                   const std::vector<std::string>& only, const Context& context)
{
    std::vector<core::PartToPrint> parts;
    for (const fs::path& folder : folders) {
        auto part = core::partFromExport(folder, context);
        if (!part)
            return part.problem();
        if (only.empty() || std::find(only.begin(), only.end(), part->name) != only.end())
            parts.push_back(std::move(*part));
    }
    if (parts.empty())
        return Problem{Reason::BadArgument, "no exported part is called so", {}, {}, "The folders have their names."};
    return parts;
}

Result<std::vector<core::PartToPrint>> fromDesign(const fs::path& file, const std::vector<std::string>& only,
                                                  const Context& context)
{
    core::MeshKeeper keeper;
    const auto opened = core::openDesign(file, keeper, {}, context);
    if (!opened)
        return opened.problem();
    const auto ids = partIds(opened->design, only);
    if (!ids)
        return ids.problem();
    std::vector<core::PartToPrint> parts;
    for (const core::PartDesign& part : opened->design.parts) {
        if (!ids->empty() && std::find(ids->begin(), ids->end(), part.id) == ids->end())
            continue;
        auto ready = core::partFromDesign(opened->design, part, context);
        if (!ready)
            return ready.problem();
        parts.push_back(std::move(*ready));
    }
    return parts;
}

} // namespace

void addPrintOptions(CLI::App& verb, PrintOptions& o)
{
    verb.add_option("--recipe", o.recipe,
                    std::string("What it is printed by (default \"") + core::usualRecipe +
                        "\"); quoin recipes lists them");
    verb.add_option("--material", o.material, "In place of each part's own");
    verb.add_option("--machine", o.machine, "Your name for the machine: its prints of the log count first");
    verb.add_option("--machine-cost", o.machinePerHour, "Wear and room of the machine, an hour")
        ->check(CLI::NonNegativeNumber);
    verb.add_option("--energy-price", o.pricePerKwh, "A kWh (default 0.30)")->check(CLI::NonNegativeNumber);
}

Result<core::PrintSetup> printSetup(const PrintOptions& o)
{
    auto setup = core::loadPrintSetup();
    if (!setup)
        return setup;
    setup->recipe = o.recipe;
    setup->material = o.material;
    setup->machine = o.machine;
    setup->machinePerHour = o.machinePerHour;
    setup->pricePerKwh = o.pricePerKwh;
    return setup;
}

Result<std::vector<core::PartToPrint>> partsToPrint(const std::string& path, const std::vector<std::string>& only,
                                                    const mesh::ReadOptions& options, const Context& context)
{
    std::error_code error;
    if (isExport(path))
        return fromExports({path}, only, context);
    if (fs::is_directory(path, error)) {
        const std::vector<fs::path> folders = exportsIn(path);
        if (folders.empty())
            return Problem{Reason::FileMissing,
                           "neither this folder nor one in it holds an export",
                           path,
                           {},
                           "Give a design, the folder of an export, or a model."};
        return fromExports(folders, only, context);
    }
    if (fs::path(path).extension() == ".json")
        return fromDesign(path, only, context);
    auto part = core::partFromModel(path, options, context);
    if (!part)
        return part.problem();
    return std::vector<core::PartToPrint>{std::move(*part)};
}

} // namespace quoin::app
