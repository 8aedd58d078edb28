// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/next_step.h"

#include <QCoreApplication>

#include <algorithm>

namespace quoin::ui {

namespace {

QString tr(const char* text)
{
    return QCoreApplication::translate("NextStep", text);
}

/// English plurals without a translation file.
QString counted(int n, const char* one, const char* many)
{
    return QStringLiteral("%1 %2").arg(n).arg(tr(n == 1 ? one : many));
}

} // namespace

JobStanding standingOf(const core::Design& design, const std::function<const core::Realised*(int part)>& realised,
                       const std::function<bool(int part)>& busy, const std::function<bool(int part)>& failed)
{
    JobStanding s;
    s.parts = static_cast<int>(design.parts.size());
    s.beds = !design.beds.empty();
    for (const core::PartDesign& part : design.parts) {
        s.atOwnSize = s.atOwnSize && part.scale == 1;
        s.working += busy(part.id) ? 1 : 0;
        const core::Realised* r = realised(part.id);
        // Cut and fitted on the beds as the design says now: what fails then are the joints, and it is told of there.
        const bool cutAsWanted = r != nullptr && r->design.source == part.source && r->design.scale == part.scale &&
                                 r->design.cuts == part.cuts;
        const bool jointsFail = cutAsWanted && (r->stage == core::Realised::Stage::Jointed ||
                                                (r->stage == core::Realised::Stage::Posed && r->fitsBeds()));
        if (failed(part.id))
            ++(jointsFail ? s.unjointed : s.failed);
        if (r == nullptr)
            continue;
        s.pieces += static_cast<int>(r->project.pieces.size());
        s.lost += r->project.pieces.empty() ? 1 : 0;
        if (r->stage != core::Realised::Stage::Cut && s.beds && !r->fitsBeds())
            ++s.tooLarge;
        s.plainSeams +=
            static_cast<int>(std::count_if(r->project.layout.reports.begin(), r->project.layout.reports.end(),
                                           [](const core::SeamReport& x) { return x.butt; }));
        s.faults += static_cast<int>(r->project.layout.faults.size());
    }
    return s;
}

namespace {

NextStep planWords(const JobStanding& s)
{
    using Do = NextStep::Do;
    using Planning = JobStanding::Planning;
    if (!s.beds)
        return {tr("Without a bed there is nothing to print on."), tr("Choose beds"), Do::ChooseBeds};
    if (s.tooLarge > 0 || s.failed > 0)
        return {tr("Not every piece fits a bed yet: see the cuts first."), {}, Do::Nothing};
    if (s.working > 0)
        return {tr("The pieces are being worked out; the plan follows."), {}, Do::Nothing};
    if (s.planning == Planning::Working)
        return {tr("The pieces are being estimated and planned. The line below shows how far it is."), {}, Do::Nothing};
    if (s.planning == Planning::Failed)
        return {tr("There is no plan yet: the words above say why."), {}, Do::Nothing};
    if (s.planning == Planning::None)
        return {tr("The pieces have not been estimated yet."), {}, Do::Nothing};
    if (!s.planComplete)
        return {tr("Some pieces can't be printed on these machines: the list of prints says why."), {}, Do::Nothing};
    if (s.dateKept && !*s.dateKept)
        return {tr("The date doesn't hold: see what would help most."), {}, Do::Nothing};
    return {s.dateKept ? tr("The date holds if nothing fails. Print, and tick off what is done.")
                       : tr("Set the day on which it must be ready, and see with what chance it holds."),
            {},
            Do::Nothing};
}

} // namespace

NextStep nextStep(const JobStanding& s, JobStep step)
{
    using Do = NextStep::Do;
    if (s.parts == 0)
        return {tr("Open a model to begin."), {}, Do::Nothing};
    switch (step) {
    case JobStep::Load:
        return {tr("The model is ready. Next: how large shall it be?"), tr("Go on to the size"), Do::GoOn};
    case JobStep::Scale:
        if (s.lost > 0)
            return {tr("%1 too small to print. Scale it up, or give the unit of its file in the first step.")
                        .arg(counted(s.lost, "part is", "parts are")),
                    {},
                    Do::Nothing};
        if (!s.beds)
            return {tr("Next: say what beds the pieces are printed on."), tr("Choose beds"), Do::ChooseBeds};
        if (s.tooLarge > 0)
            return {tr("%1 too large for the beds as it stands. Next: cut.")
                        .arg(counted(s.tooLarge, "part is", "parts are")),
                    tr("Go on to the cuts"), Do::GoOn};
        return {tr("Next: look at the cuts."), tr("Go on to the cuts"), Do::GoOn};
    case JobStep::Cut:
        if (!s.beds)
            return {tr("Without a bed there is nothing to fit the pieces to."), tr("Choose beds"), Do::ChooseBeds};
        if (s.suggesting)
            return {tr("Cuts are being looked for. The line below shows how far it is."), {}, Do::Nothing};
        if (s.failed > 0)
            return {tr("%1 can't be cut as it stands: the list of parts says why. Undo, or change its cuts.")
                        .arg(counted(s.failed, "part", "parts")),
                    {},
                    Do::Nothing};
        if (s.tooLarge > 0)
            return {tr("%1 with pieces too large for the beds. Add cuts yourself, or let them be suggested.")
                        .arg(counted(s.tooLarge, "part", "parts")),
                    s.tooLarge == 1 ? tr("Suggest cuts and take them")
                                    : tr("Suggest cuts for all of them and take them"),
                    Do::SuggestAll};
        if (s.working > 0)
            return {tr("The pieces are being cut and fitted on the beds."), {}, Do::Nothing};
        return {tr("Every piece fits a bed (%1). Next: the joints.").arg(counted(s.pieces, "piece", "pieces")),
                tr("Go on to the joints"), Do::GoOn};
    case JobStep::Joint:
        if (!s.beds || s.failed > 0)
            return {tr("Not every piece fits a bed yet: see the cuts first."), {}, Do::Nothing};
        if (s.unjointed > 0 && s.working == 0)
            return {s.unjointed == 1
                        ? tr("A joint can't be made as it stands: the list says which and why. Move, change or remove "
                             "it, or undo.")
                        : tr("Joints of %1 parts can't be made as they stand: the lists say which and why. Move, "
                             "change or remove them, or undo.")
                              .arg(s.unjointed),
                    {},
                    Do::Nothing};
        if (s.working > 0)
            return {tr("Joints are being laid out."), {}, Do::Nothing};
        if (s.tooLarge > 0)
            return {tr("%1 with pieces too large for the beds: cut them first, in the step before.")
                        .arg(counted(s.tooLarge, "part", "parts")),
                    {},
                    Do::Nothing};
        if (s.faults > 0)
            return {tr("%1 against a rule: see the list.").arg(counted(s.faults, "joint is", "joints are")),
                    tr("Go on to the proof"), Do::GoOn};
        if (s.weak > 0)
            return {tr("%1 weak for the load, as estimated: see Strength. Choose other joints, or go on.")
                        .arg(counted(s.weak, "face is", "faces are")),
                    tr("Go on to the proof"), Do::GoOn};
        if (s.plainSeams > 0)
            return {tr("%1 no room for a dowel and will be glued plain. Next: export and prove.")
                        .arg(counted(s.plainSeams, "face has", "faces have")),
                    tr("Go on to the proof"), Do::GoOn};
        return {tr("Every face has its joints. Next: export and prove."), tr("Go on to the proof"), Do::GoOn};
    case JobStep::Prove:
        if (s.exporting)
            return {tr("The files are being written, read back and proved."), {}, Do::Nothing};
        if (s.proved && *s.proved)
            return {tr("Proved: what was written goes back together. Next: when it is printed."),
                    tr("Go on to the plan"), Do::GoOn};
        if (s.proved)
            return {tr("The proof failed: the claims that don't hold stand first."), {}, Do::Nothing};
        if (s.unjointed > 0)
            return {tr("A joint can't be made as it stands: mend it in the step before."), {}, Do::Nothing};
        if (s.tooLarge > 0)
            return {tr("Pieces that fit no bed can't be exported: cut them first."), {}, Do::Nothing};
        return {tr("Choose a folder, and press the button above: the files are written, read back, and proved."),
                {},
                Do::Nothing};
    case JobStep::Plan:
        return planWords(s);
    }
    return {};
}

std::array<StepState, StepBar::stepCount> stepStates(const JobStanding& s)
{
    using Progress = StepState::Progress;
    std::array<StepState, StepBar::stepCount> states;
    const bool any = s.parts > 0;
    states[0] = any ? StepState{Progress::Done, tr("a model is open"), {}} : StepState{};
    if (!any) {
        for (std::size_t i = 1; i < states.size(); ++i)
            states[i].whyDisabled = tr("open a model first");
        return states;
    }
    if (!s.atOwnSize)
        states[1] = {Progress::Done, tr("scaled"), {}};
    if (s.lost > 0)
        states[2] = {Progress::Attention, tr("%1 too small to print").arg(counted(s.lost, "part is", "parts are")), {}};
    else if (s.failed > 0)
        states[2] = {Progress::Attention,
                     tr("%1 could not be cut: see the list of parts").arg(counted(s.failed, "part", "parts")),
                     {}};
    else if (!s.beds)
        states[2] = {Progress::Attention, tr("no bed is chosen"), {}};
    else if (s.tooLarge > 0)
        states[2] = {
            Progress::Attention, tr("%1 too large for the beds").arg(counted(s.tooLarge, "part is", "parts are")), {}};
    else if (s.working == 0)
        states[2] = {Progress::Done, tr("every piece fits a bed"), {}};
    if (s.unjointed > 0)
        states[3] = {Progress::Attention, tr("a joint can't be made as it stands"), {}};
    else if (s.faults > 0)
        states[3] = {Progress::Attention, tr("%1 a rule").arg(counted(s.faults, "joint breaks", "joints break")), {}};
    else if (s.weak > 0)
        states[3] = {Progress::Attention, tr("%1 weak for the load").arg(counted(s.weak, "face is", "faces are")), {}};
    else if (s.working == 0 && s.tooLarge == 0 && s.failed == 0 && s.beds)
        states[3] = {Progress::Done, tr("joints are laid out"), {}};
    if (s.proved)
        states[4] = *s.proved ? StepState{Progress::Done, tr("exported and proved"), {}}
                              : StepState{Progress::Attention, tr("the proof failed"), {}};
    if (s.planning == JobStanding::Planning::Failed)
        states[5] = {Progress::Attention, tr("the printing can't be planned"), {}};
    else if (s.planning == JobStanding::Planning::Made && !s.planComplete)
        states[5] = {Progress::Attention, tr("some pieces can't be printed on these machines"), {}};
    else if (s.planning == JobStanding::Planning::Made && s.dateKept == false)
        states[5] = {Progress::Attention, tr("the date doesn't hold"), {}};
    else if (s.planning == JobStanding::Planning::Made)
        states[5] = {Progress::Done, s.dateKept ? tr("planned, and the date holds") : tr("planned"), {}};
    return states;
}

} // namespace quoin::ui
