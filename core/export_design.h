// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/export.h"
#include "core/realise.h"

#include <filesystem>
#include <functional>
#include <map>
#include <string>
#include <vector>

/// Exports of whole designs: what the window and the command line both call.
namespace quoin::core {

/// Whether a part can be exported, and what would be.
struct PartReadiness {
    int part = 0; ///< PartDesign::id
    std::string name;
    std::size_t pieces = 0, seams = 0, joints = 0;
    std::size_t plainSeams = 0; ///< seams without a joint
    bool fits = false;          ///< every piece, on the design's beds
    std::string whyNot;         ///< empty when it can be exported; else a sentence or more
    bool ready() const { return whyNot.empty(); }
};

/// @param realised  what has been worked out of the part so far; may be null
PartReadiness readiness(const PartDesign& part, const RealisedPtr& realised);

/// Where each part goes: one alone into the folder itself, several each into a folder of its name there, told apart by
/// a number where names are alike.
std::vector<std::filesystem::path> exportFolders(const Design& design, const std::vector<int>& parts,
                                                 const std::filesystem::path& folder);

struct DesignExportOptions {
    ExportOptions each;               ///< for every part
    std::vector<int> parts;           ///< ids; none: every part
    std::map<int, RealisedPtr> known; ///< what was worked out before, by id: not done again
    /// Told of each part as it is begun; the context's fractions are of that part. May be empty.
    std::function<void(std::size_t index, std::size_t count, const std::string& name)> onPart;
};

struct ExportedPart {
    int part = 0;
    std::string name;
    int quantity = 1; ///< how often the set is to be printed
    RealisedPtr realised;
    Exported exported;
};

/// Works the parts out and exports each with its proof. Nothing is written before all are known to be exportable.
///
/// BadArgument for a part that isn't there and for a design without any; FileExists; DoesNotFit with every piece that
/// fits no bed; what exportProject says, with the part's name and what was written before it.
Result<std::vector<ExportedPart>> exportDesign(const Design& design, const std::filesystem::path& folder,
                                               const DesignExportOptions& options, const Context& context = {});

} // namespace quoin::core
