// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/print_plan.h"
#include "core/print_project.h"
#include "core/realise.h"

#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

/// What there is to print of a design, with grams and hours: worked out in the background, and kept until a part or
/// its recipe changes.
namespace quoin::ui {

/// All that it depends on.
struct PlanQuestion {
    core::Design design;
    std::map<int, core::RealisedPtr> realised;  ///< of every part, jointed and fitting
    core::PrintSetup setup;                     ///< with the recipe of the job
    std::map<std::string, std::string> recipes; ///< of parts that have one of their own, by the part's name
    std::map<std::string, int> quantities;      ///< in place of the design's, by the part's name
    std::vector<std::string> first;             ///< pieces wanted first
    std::string coupon;                         ///< folder; empty: none
    /// Also with the next larger nozzle, and of the small originals: it takes as long again.
    bool compare = false;
};

/// What comes of it. Immutable once handed out.
struct PlanWork {
    core::ProjectEstimate estimate;
    std::shared_ptr<const core::PlateJob> job;
    std::vector<core::ScalingRow> scaling;
    bool scalingToCome = false; ///< the table comes with the comparison
    std::string past;           ///< how good earlier estimates were, by the log; empty: there is none
    double scale = 1;           ///< of the table; 0: parts are scaled differently
};
using PlanWorkPtr = std::shared_ptr<const PlanWork>;

/// Parts made ready to be printed, and pieces estimated, earlier on. Work that comes while other work is being given
/// up waits for it.
class PlanCache {
public:
    struct Part;
    PlanCache();
    ~PlanCache();

    /// Jointed pieces, lists, estimates by recipe, shadows on the plate; only what isn't known yet is worked out.
    /// What the steps say; Cancelled.
    Result<PlanWorkPtr> work(const PlanQuestion& question, const Context& context);

private:
    Status makeParts(const PlanQuestion& question, const Context& context);
    Result<core::ProjectEstimate> estimates(const PlanQuestion& question, const Context& context);

    std::mutex m_lock;                            ///< of everything
    std::map<int, std::unique_ptr<Part>> m_parts; ///< by PartDesign::id
};

/// The recipe one nozzle larger for the same purpose, for what would help; empty when there is none.
std::string coarserRecipe(const core::RecipeBook& book, const std::string& recipe);

/// With money by other prices and machines; grams and hours stay.
core::ProjectEstimate repriced(core::ProjectEstimate estimate, const core::PrintSetup& setup);

/// With the machines that a plan gives the pieces to: lines are parted where copies go to several.
core::ProjectEstimate onMachines(const core::ProjectEstimate& estimate, const core::PrintPlan& plan);

} // namespace quoin::ui
