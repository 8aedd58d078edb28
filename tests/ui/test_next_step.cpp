// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/next_step.h"

#include <catch2/catch.hpp>

using namespace quoin;
using ui::JobStep;
using Do = ui::NextStep::Do;
using Progress = ui::StepState::Progress;

namespace {

ui::JobStanding standing(int parts = 1)
{
    ui::JobStanding s;
    s.parts = parts;
    s.beds = true;
    return s;
}

Do what(const ui::JobStanding& s, JobStep step)
{
    const ui::NextStep next = ui::nextStep(s, step);
    CHECK_FALSE(next.words.isEmpty());
    CHECK_FALSE(next.words.contains('%'));
    CHECK(next.button.isEmpty() == (next.what == Do::Nothing));
    return next.what;
}

} // namespace

TEST_CASE("next step: nothing is open")
{
    for (const JobStep step : {JobStep::Load, JobStep::Scale, JobStep::Cut, JobStep::Joint, JobStep::Prove, JobStep::Plan})
        CHECK(what({}, step) == Do::Nothing);
    const auto states = ui::stepStates({});
    CHECK(states[0].whyDisabled.isEmpty());
    for (std::size_t i = 1; i < states.size(); ++i)
        CHECK(states[i].whyDisabled == "open a model first");
}

TEST_CASE("next step: the way from a model to the proof")
{
    ui::JobStanding s = standing();
    CHECK(what(s, JobStep::Load) == Do::GoOn);
    CHECK(what(s, JobStep::Scale) == Do::GoOn);
    s.tooLarge = 1;
    CHECK(ui::nextStep(s, JobStep::Scale).words.startsWith("1 part is too large"));
    CHECK(what(s, JobStep::Cut) == Do::SuggestAll);
    s.tooLarge = 2;
    CHECK(ui::nextStep(s, JobStep::Cut).words.startsWith("2 parts with pieces too large"));
    s.tooLarge = 0;
    s.working = 1;
    CHECK(what(s, JobStep::Cut) == Do::Nothing);
    CHECK(what(s, JobStep::Joint) == Do::Nothing);
    s.working = 0;
    s.pieces = 7;
    CHECK(ui::nextStep(s, JobStep::Cut).words.contains("7 pieces"));
    CHECK(what(s, JobStep::Joint) == Do::GoOn);
    s.plainSeams = 1;
    CHECK(ui::nextStep(s, JobStep::Joint).words.startsWith("1 face has no room"));
    s.weak = 2;
    CHECK(ui::nextStep(s, JobStep::Joint).words.startsWith("2 faces are weak for the load"));
    CHECK(what(s, JobStep::Joint) == Do::GoOn);
    CHECK(ui::stepStates(s)[3].progress == Progress::Attention);
    s.faults = 3;
    CHECK(ui::nextStep(s, JobStep::Joint).words.startsWith("3 joints are against a rule"));
    CHECK(what(s, JobStep::Prove) == Do::Nothing);
    s.proved = true;
    CHECK(ui::nextStep(s, JobStep::Prove).words.startsWith("Proved"));
    CHECK(what(s, JobStep::Prove) == Do::GoOn);
    s.proved = false;
    CHECK(ui::nextStep(s, JobStep::Prove).words.contains("failed"));
}

TEST_CASE("next step: the plan of printing, from nothing to a date that holds")
{
    using Planning = ui::JobStanding::Planning;
    ui::JobStanding s = standing();
    const auto words = [&] {
        CHECK(what(s, JobStep::Plan) == Do::Nothing);
        return ui::nextStep(s, JobStep::Plan).words;
    };
    const auto state = [&] { return ui::stepStates(s)[5]; };
    CHECK(words().contains("not been estimated"));
    CHECK(state().progress == Progress::Open);
    s.planning = Planning::Working;
    CHECK(words().contains("being estimated"));
    CHECK(state().progress == Progress::Open);
    s.planning = Planning::Failed;
    CHECK(state().progress == Progress::Attention);
    s.planning = Planning::Made;
    CHECK(words().contains("can't be printed"));
    CHECK(state().progress == Progress::Attention);
    s.planComplete = true;
    CHECK(words().startsWith("Set the day"));
    CHECK(state().progress == Progress::Done);
    s.dateKept = true;
    CHECK(words().startsWith("The date holds"));
    CHECK(state().reason.contains("holds"));
    s.dateKept = false;
    CHECK(words().startsWith("The date doesn't hold"));
    CHECK(state().progress == Progress::Attention);
    s.working = 1;
    CHECK(words().contains("being worked out"));
    s.tooLarge = 1;
    CHECK(words().contains("see the cuts"));
    s.beds = false;
    CHECK(what(s, JobStep::Plan) == Do::ChooseBeds);
    CHECK(ui::stepStates({})[5].whyDisabled == "open a model first");
}

TEST_CASE("next step: without beds, and with parts that are too large or can't be cut, nothing is called done")
{
    ui::JobStanding bare = standing();
    bare.beds = false;
    CHECK(what(bare, JobStep::Scale) == Do::ChooseBeds);
    CHECK(what(bare, JobStep::Cut) == Do::ChooseBeds);
    ui::JobStanding large = standing();
    large.tooLarge = 1;
    ui::JobStanding failed = standing();
    failed.failed = 1;
    CHECK(what(failed, JobStep::Cut) == Do::Nothing);
    CHECK(ui::nextStep(failed, JobStep::Cut).words.startsWith("1 part can't be cut"));
    for (const ui::JobStanding& s : {bare, large, failed}) {
        CHECK(what(s, JobStep::Joint) == Do::Nothing);
        const auto states = ui::stepStates(s);
        CHECK(states[0].progress == Progress::Done);
        CHECK(states[2].progress == Progress::Attention);
        CHECK_FALSE(states[2].reason.isEmpty());
        CHECK(states[3].progress == Progress::Open);
        CHECK(states[4].progress == Progress::Open);
    }
}

TEST_CASE("next step: marks of the steps")
{
    ui::JobStanding s = standing();
    CHECK(ui::stepStates(s)[1].progress == Progress::Open);
    s.atOwnSize = false;
    CHECK(ui::stepStates(s)[1].progress == Progress::Done);
    CHECK(ui::stepStates(s)[2].progress == Progress::Done);
    CHECK(ui::stepStates(s)[3].progress == Progress::Done);
    s.working = 1;
    CHECK(ui::stepStates(s)[2].progress == Progress::Open);
    CHECK(ui::stepStates(s)[3].progress == Progress::Open);
    s.working = 0;
    s.faults = 1;
    CHECK(ui::stepStates(s)[3].progress == Progress::Attention);
    s.proved = true;
    CHECK(ui::stepStates(s)[4].progress == Progress::Done);
    s.proved = false;
    CHECK(ui::stepStates(s)[4].progress == Progress::Attention);
}

TEST_CASE("next step: how a design stands is counted over its parts")
{
    core::Design design;
    design.beds = {{"b", core::Bed::Shape::Rectangular, 200, 200, 200, 1}};
    design.parts.resize(3);
    for (int i = 0; i < 3; ++i)
        design.parts[static_cast<std::size_t>(i)].id = i + 1;
    core::Realised first, second;
    first.stage = core::Realised::Stage::Jointed;
    first.project.pieces.resize(4);
    first.project.layout.reports.resize(3);
    first.project.layout.reports[1].butt = true;
    first.project.layout.faults.resize(2);
    second.stage = core::Realised::Stage::Posed;
    second.project.pieces.resize(2);
    second.project.pieces[0].pose.slackMm = -1;
    const auto realised = [&](int id) { return id == 1 ? &first : id == 2 ? &second : nullptr; };
    const ui::JobStanding s = ui::standingOf(
        design, realised, [](int id) { return id == 3; }, [](int) { return false; });
    CHECK(s.parts == 3);
    CHECK(s.beds);
    CHECK(s.working == 1);
    CHECK(s.failed == 0);
    CHECK(s.pieces == 6);
    CHECK(s.tooLarge == 1);
    CHECK(s.plainSeams == 1);
    CHECK(s.faults == 2);
    CHECK(s.atOwnSize);
    // A joint by hand that can't be made is no cut that can't be made.
    const auto all = [](int) { return true; };
    CHECK(ui::standingOf(
              design, realised, [](int) { return false; }, all)
              .failed == 2);
    design.parts[2].scale = 2;
    CHECK_FALSE(ui::standingOf(
                    design, realised, [](int) { return false; }, [](int) { return false; })
                    .atOwnSize);
}

TEST_CASE("next step: joints that can't be made are told of as such, not as pieces that fit no bed")
{
    core::Design design;
    design.beds = {{"b", core::Bed::Shape::Rectangular, 200, 200, 200, 1}};
    design.parts.resize(1);
    design.parts[0].id = 1;
    core::Realised made;
    made.project.pieces.resize(2);
    const auto standing = [&] {
        return ui::standingOf(
            design, [&](int) { return &made; }, [](int) { return false; }, [](int) { return true; });
    };
    // Laid out, and then the geometry refuses; or refused before anything is laid out.
    for (const auto stage : {core::Realised::Stage::Jointed, core::Realised::Stage::Posed}) {
        made.stage = stage;
        const ui::JobStanding s = standing();
        CHECK(s.failed == 0);
        CHECK(s.unjointed == 1);
        const ui::NextStep next = ui::nextStep(s, JobStep::Joint);
        CHECK(next.words.startsWith("A joint can't be made as it stands"));
        CHECK_FALSE(next.words.contains("bed"));
        CHECK(next.what == Do::Nothing);
        CHECK(ui::nextStep(s, JobStep::Prove).words.contains("mend it in the step before"));
        CHECK(ui::stepStates(s)[2].progress == Progress::Done);
        CHECK(ui::stepStates(s)[3].progress == Progress::Attention);
    }
    // What is there is of other cuts: it is the new ones that can't be made.
    design.parts[0].cuts.push_back({1, {}, {{0, 0, 1}, 50}, true, {}});
    CHECK(standing().failed == 1);
    CHECK(standing().unjointed == 0);
}
