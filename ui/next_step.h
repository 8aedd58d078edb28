// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/design.h"
#include "core/realise.h"
#include "ui/step_bar.h"
#include "ui/view_state.h"

#include <QString>

#include <array>
#include <functional>
#include <optional>

namespace quoin::ui {

/// How the job stands, as far as the way on depends on it.
struct JobStanding {
    int parts = 0;
    int working = 0;   ///< parts that are being worked out
    int failed = 0;    ///< parts that can't be cut
    int unjointed = 0; ///< parts whose joints can't be made as they stand
    int tooLarge = 0;  ///< parts of which a piece fits no bed
    int pieces = 0;
    int lost = 0;       ///< parts that have no piece large enough to print
    int plainSeams = 0; ///< faces without a joint
    int faults = 0;     ///< joints that break a rule
    int weak = 0;       ///< faces below the limit of safety, as far as they have been reckoned
    bool beds = false;
    bool suggesting = false; ///< cuts are being looked for
    bool exporting = false;
    bool atOwnSize = true;      ///< nothing has been scaled
    std::optional<bool> proved; ///< of the last export; none: not exported

    /// How far the plan of printing is.
    enum class Planning { None, Working, Failed, Made };
    Planning planning = Planning::None;
    bool planComplete = false;    ///< every piece has its plate
    std::optional<bool> dateKept; ///< none: no deadline is set
};

JobStanding standingOf(const core::Design& design, const std::function<const core::Realised*(int part)>& realised,
                       const std::function<bool(int part)>& busy, const std::function<bool(int part)>& failed);

/// What to do next, as a sentence and a button.
struct NextStep {
    enum class Do { Nothing, GoOn, SuggestAll, ChooseBeds };
    QString words;
    QString button; ///< empty: none
    Do what = Do::Nothing;
};
NextStep nextStep(const JobStanding& standing, JobStep step);

/// Marks for the bar of steps.
std::array<StepState, StepBar::stepCount> stepStates(const JobStanding& standing);

} // namespace quoin::ui
