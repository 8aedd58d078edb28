// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
//
// Joints of every kind, screws with clocking keys, and witness lines at random places of the sample heron, seven times
// as large, and of scans: how many are made, how many refused and why, and that none comes out invalid. Usage:
// quoin_joint_placements [COUNT [SEED [KIND]]], KIND a kind, "screw+key" or "witness line". Exit status 1 when any is
// invalid; each of those is named by its number, which with the seed makes it again.
#include "core/parallel.h"
#include "mesh/self_intersection.h"
#include "mesh/topology.h"
#include "sample_models/heron_part.h"
#include "tests/support/joint_trials.h"

#include <fmt/format.h>

#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <map>

using namespace quoin;
using test::TrialOutcome;
using test::TrialScene;
using Verdict = TrialOutcome::Verdict;

namespace {

constexpr double heronScale = 7;
constexpr int scenesOfEach = 8;

std::vector<test::NamedBody> heronBodies()
{
    std::vector<test::NamedBody> bodies;
    for (const samples::HeronPart& part : {samples::heronPlinth(), samples::heronColumn(), samples::heronBody(),
                                           samples::heronNeck(), samples::heronWing(true), samples::heronHandCrank()})
        bodies.push_back({part.name, mesh::transformed(part.mesh, mesh::Transform::scaling(heronScale))});
    return bodies;
}

std::vector<TrialScene> allScenes(unsigned seed)
{
    std::vector<test::NamedBody> bodies = heronBodies();
    for (test::NamedBody& scan : test::scannedBodies())
        bodies.push_back(std::move(scan));
    std::vector<std::vector<TrialScene>> made(bodies.size());
    core::forEachIndex(bodies.size(), [&](std::size_t i) {
        made[i] = test::trialScenes(bodies[i], scenesOfEach, seed + static_cast<unsigned>(i));
    });
    std::vector<TrialScene> all;
    for (std::size_t i = 0; i < bodies.size(); ++i) {
        fmt::print("{}: {} triangles, {} scenes\n", bodies[i].name, bodies[i].mesh.triangles.size(), made[i].size());
        std::move(made[i].begin(), made[i].end(), std::back_inserter(all));
    }
    return all;
}

/// Number of invalid ones.
template <class Make>
int run(const std::vector<TrialScene>& scenes, const char* name, const Make& make, std::size_t count, unsigned seed)
{
    const auto start = std::chrono::steady_clock::now();
    std::vector<TrialOutcome> outcomes(count);
    core::forEachIndex(count, [&](std::size_t i) {
        std::mt19937 random(seed + static_cast<unsigned>(i));
        const TrialScene& scene = scenes[i % scenes.size()];
        outcomes[i] = test::tried(scene, make(scene, random));
    });
    int made = 0, refused = 0, invalid = 0;
    std::map<std::string, int> reasons;
    for (std::size_t i = 0; i < count; ++i) {
        made += outcomes[i].verdict == Verdict::Made;
        refused += outcomes[i].verdict == Verdict::Refused;
        if (outcomes[i].verdict == Verdict::Refused)
            ++reasons[outcomes[i].words];
        if (outcomes[i].verdict == Verdict::Invalid) {
            ++invalid;
            fmt::print("  INVALID {} {} in {}: {}\n", name, i, scenes[i % scenes.size()].name, outcomes[i].words);
        }
    }
    const std::chrono::duration<double> s = std::chrono::steady_clock::now() - start;
    fmt::print("{:<12} made {:5}  refused {:5}  invalid {:3}  in {:.0f} s\n", name, made, refused, invalid, s.count());
    for (const auto& [words, n] : reasons)
        fmt::print("  {:5}  {}\n", n, words);
    std::fflush(stdout);
    return invalid;
}

} // namespace

int main(int argc, char** argv)
{
    const auto count = static_cast<std::size_t>(argc > 1 ? std::atol(argv[1]) : 1000);
    const auto seed = static_cast<unsigned>(argc > 2 ? std::atol(argv[2]) : 1);
    const std::vector<TrialScene> scenes = allScenes(seed);
    int invalid = 0;
    const auto wanted = [&](std::string_view name) { return argc < 4 || name == argv[3]; };
    for (const core::JointForm::Kind kind : core::allJointKinds)
        if (wanted(core::kindName(kind)))
            invalid += run(
                scenes, core::kindName(kind),
                [kind](const TrialScene& scene, std::mt19937& random) {
                    return test::randomLayout(scene, kind, random);
                },
                count, seed);
    if (wanted("screw+key"))
        invalid += run(scenes, "screw+key", test::randomSet, count, seed);
    if (wanted("witness line"))
        invalid += run(scenes, "witness line", test::randomWitness, count, seed);
    return invalid == 0 ? 0 : 1;
}
