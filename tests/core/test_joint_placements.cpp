// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
//
// A small share of tests/bench/joint_placements.cpp: joints at random places of scans come out sound, or are refused.
#include "tests/support/joint_trials.h"

#include <catch2/catch.hpp>

using namespace quoin;
using namespace quoin::test;
using Verdict = TrialOutcome::Verdict;

TEST_CASE("joint placements: every kind at random places of a scan and of a toothed wheel")
{
    std::vector<TrialScene> scenes = trialScenes(scannedBody("bunny"), 5, 11);
    for (TrialScene& scene : trialScenes(scannedBody("gearwheel"), 4, 12))
        scenes.push_back(std::move(scene));
    REQUIRE(scenes.size() == 9);
    const auto tryAll = [&](const char* name, const auto& make) {
        INFO(name);
        std::mt19937 random(13);
        int made = 0, refused = 0;
        for (std::size_t i = 0; i < 36; ++i) {
            const core::JointLayout layout = make(scenes[i % scenes.size()], random);
            const TrialOutcome outcome = tried(scenes[i % scenes.size()], layout);
            INFO("placement " << i << ": " << outcome.words);
            CHECK(outcome.verdict != Verdict::Invalid);
            made += outcome.verdict == Verdict::Made;
            refused += outcome.verdict == Verdict::Refused;
        }
        // Both must come up, or the places are none that matter.
        CHECK(made >= 4);
        return refused;
    };
    for (const core::JointForm::Kind kind : core::allJointKinds)
        CHECK(tryAll(core::kindName(kind), [kind](const TrialScene& scene, std::mt19937& random) {
                  return randomLayout(scene, kind, random);
              }) >= 4);
    CHECK(tryAll("screw+key", randomSet) >= 4);
    tryAll("witness line", randomWitness); // hardly any place refuses a groove
}
