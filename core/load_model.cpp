// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/load_model.h"

#include "core/file_hash.h"
#include "mesh/repair.h"

#include <fmt/format.h>

namespace quoin::core {

namespace {

Problem inFile(Problem problem, const std::filesystem::path& file)
{
    problem.file = file.string();
    return problem;
}

/// Mends a model; says what was done.
Status mend(LoadedModel& loaded, mesh::Mesh& mesh, const Context& context)
{
    auto mended = mesh::repaired(mesh, {}, context);
    if (!mended)
        return mended.problem();
    const mesh::RepairReport& report = mended->report;
    loaded.part.repairs = report.changes;
    for (const std::string& change : report.changes)
        loaded.notes.push_back({Note::Severity::Warning, "repaired: " + change, {}});
    loaded.notes.push_back({Note::Severity::Info,
                            fmt::format("repair moved the volume from {:.5g} to {:.5g} mm3 and the surface by at most "
                                        "{:.3g} mm (sizes before scaling)",
                                        report.volumeBeforeMm3, report.volumeAfterMm3, report.surfaceMovedMm),
                            {}});
    mesh = std::move(mended->mesh);
    loaded.health = mesh::healthOf(mesh, {}, context);
    if (const auto still = mesh::whyNotSound(mesh, loaded.health))
        return *still;
    return Done{};
}

} // namespace

Result<LoadedModel> loadModel(const std::filesystem::path& file, const mesh::ReadOptions& read, bool repair,
                              const Context& context)
{
    const Problem stopped{Reason::Cancelled, "cancelled", {}, {}, {}};
    context.report(0.02, "reading");
    auto model = mesh::readModel(file, read, context);
    if (!model)
        return model.problem();
    LoadedModel loaded;
    loaded.notes = model->notes;
    loaded.part.name = file.stem().string();
    loaded.part.sourceFile = file.string();
    loaded.part.sourceUnit = model->unit;
    context.report(0.2, "checking the model");
    loaded.health = mesh::healthOf(model->mesh, {}, context);
    if (context.cancelled())
        return stopped;
    if (const auto trouble = mesh::whyNotSound(model->mesh, loaded.health)) {
        if (!repair)
            return inFile(*trouble, file);
        context.report(0.6, "repairing");
        if (const Status s = mend(loaded, model->mesh, context); !s)
            return inFile(s.problem(), file);
    }
    if (context.cancelled())
        return stopped;
    auto hash = sha256OfFile(file);
    if (!hash)
        return hash.problem();
    loaded.part.sourceSha256 = std::move(*hash);
    loaded.part.source = std::make_shared<const mesh::Mesh>(std::move(model->mesh));
    return loaded;
}

} // namespace quoin::core
