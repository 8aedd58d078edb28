// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/plan_simulation.h"
#include "core/plate_build.h"

#include <catch2/catch.hpp>

#include <climits>
#include <cmath>

using namespace quoin;
using namespace quoin::core;

namespace {

const WorkTime& allTheTime()
{
    static const WorkTime time(WorkCalendar::always(), *momentFromText("2026-11-30"));
    return time;
}

std::vector<SimulatedPlate> platesOf(std::size_t count, double hours, double spread = 0)
{
    return std::vector<SimulatedPlate>(count, SimulatedPlate{hours, 100, spread, 2, {1}});
}

SimulatedMachine machineOf(std::size_t plates, FailureRate failure, const WorkTime& time = allTheTime())
{
    SimulatedMachine m{&time, 1, 0, 0, failure, {}};
    for (std::size_t i = 0; i < plates; ++i)
        m.queue.push_back(i);
    return m;
}

double binomial(int n, int k)
{
    return std::exp(std::lgamma(n + 1) - std::lgamma(k + 1) - std::lgamma(n - k + 1));
}

/// Chance that n prints that fail with chance f each come out within k attempts in all: the negative binomial's
/// distribution function, summed over the attempt at which the n-th comes out.
double withinAttempts(int n, int k, double f)
{
    double sum = 0;
    for (int last = n; last <= k; ++last)
        sum += binomial(last - 1, n - 1) * std::pow(1 - f, n) * std::pow(f, last - n);
    return sum;
}

} // namespace

TEST_CASE("plan simulation: failures by the print against the negative binomial")
{
    for (const auto& [n, k, f] : {std::tuple(5, 6, 0.1), {5, 8, 0.25}, {12, 12, 0.05}, {1, 2, 0.4}}) {
        SimulationRules rules;
        rules.runs = 20000;
        rules.deadline = k * 3 * 60;
        const Simulation s = simulate(platesOf(static_cast<std::size_t>(n), 3),
                                      {machineOf(static_cast<std::size_t>(n), {FailureRate::Per::Print, f})}, rules);
        const double p = withinAttempts(n, k, f);
        INFO(n << " " << k << " " << f);
        CHECK(std::abs(s.chance() - p) < 4 * std::sqrt(p * (1 - p) / rules.runs));
        // Mean number of failures before n successes: n f / (1 - f).
        CHECK(s.meanFailures == Approx(n * f / (1 - f)).epsilon(0.06));
        CHECK(s.chanceError() < 0.004);
    }
}

TEST_CASE("plan simulation: failures by the hour against the mean of an exponential begun again")
{
    const FailureRate rate{FailureRate::Per::Hour, 0.02};
    SimulationRules rules;
    rules.runs = 20000;
    const Simulation s = simulate(platesOf(4, 20), {machineOf(4, rate)}, rules);
    const double lost = 4 * (std::expm1(0.02 * 20) / 0.02 - 20); // closed form
    CHECK(4 * (rate.meanHours(20) - 20) == Approx(lost));
    CHECK(s.meanLostHours == Approx(lost).epsilon(0.03));
    CHECK(s.meanLostGrams == Approx(lost / 20 * 100).epsilon(0.03));
    const double f = -std::expm1(-0.4);
    CHECK(rate.chance(20) == Approx(f));
    CHECK(s.meanFailures == Approx(4 * f / (1 - f)).epsilon(0.03));
    CHECK(rate.meanFailures(20) == Approx(f / (1 - f)));
}

TEST_CASE("plan simulation: the estimate's spread against the normal distribution")
{
    // ln(factor) is normal: P(10 h factor <= 11 h) = Phi(ln 1.1 / sigma).
    const double spread = logSpreadOf(8, 12.5); // nine of ten between: ln(12.5 / 8) / (2 * 1.6449)
    CHECK(spread == Approx(0.13566).epsilon(1e-4));
    SimulationRules rules;
    rules.runs = 20000;
    rules.deadline = 11 * 60;
    const Simulation s = simulate(platesOf(1, 10, spread), {machineOf(1, {FailureRate::Per::Hour, 0})}, rules);
    const double p = 0.5 * std::erfc(-std::log(1.1) / spread / std::sqrt(2));
    CHECK(std::abs(s.chance() - p) < 4 * std::sqrt(p * (1 - p) / rules.runs) + 0.002);
    CHECK(s.readyBy(0.5) == Approx(600).margin(4));
    CHECK(s.readyBy(0.05) == Approx(600 * std::exp(-1.6449 * spread)).epsilon(0.01));
    CHECK(logSpreadOf(10, 10) == 0);
    CHECK(logSpreadOf(0, 10) == 0);
}

TEST_CASE("plan simulation: without chance it is the plan itself, and a seed gives the same dice")
{
    const WorkTime day(WorkCalendar::working(8, 18), *momentFromText("2026-11-30"));
    SimulatedMachine m = machineOf(2, {FailureRate::Per::Hour, 0}, day);
    m.changeMinutes = 20;
    SimulationRules rules;
    rules.runs = 50;
    const Simulation s = simulate(platesOf(2, 3), {m}, rules);
    CHECK(s.finish.front() == 8 * 60 + 2 * 200);
    CHECK(s.finish.back() == s.finish.front());
    m.failure.rate = 0.05;
    const Simulation a = simulate(platesOf(2, 3), {m}, rules), b = simulate(platesOf(2, 3), {m}, rules);
    CHECK(a.finish == b.finish);
    rules.seed = 2;
    CHECK(simulate(platesOf(2, 3), {m}, rules).finish != a.finish);
    // A failure in the night is seen in the morning.
    SimulatedMachine always = machineOf(1, {FailureRate::Per::Hour, 0.05}, day);
    const Simulation night = simulate(platesOf(1, 14), {always}, rules);
    for (const long f : night.finish)
        CHECK(day.attended(f));
    CHECK(night.finish.back() > night.finish.front());
}

TEST_CASE("plan simulation: an idle machine takes the last plate of a busy one")
{
    SimulationRules rules;
    rules.runs = 1;
    auto plates = platesOf(4, 5);
    for (SimulatedPlate& p : plates)
        p.machines = {1, 1};
    std::vector<SimulatedMachine> machines{machineOf(4, {FailureRate::Per::Hour, 0}),
                                           machineOf(0, {FailureRate::Per::Hour, 0})};
    CHECK(simulate(plates, machines, rules).finish[0] == 10 * 60);
    rules.lendHands = false;
    CHECK(simulate(plates, machines, rules).finish[0] == 20 * 60);
    rules.lendHands = true;
    for (SimulatedPlate& p : plates)
        p.machines = {1, 0};
    CHECK(simulate(plates, machines, rules).finish[0] == 20 * 60);
}

TEST_CASE("plate limit: where a failure costs more than a plate change saves")
{
    const FailureRate rate{FailureRate::Per::Hour, 0.01};
    const double h = sharedPlateHours(rate, 3);
    // By its definition: one plate of H against two of half.
    CHECK(rate.meanHours(h) == Approx(2 * rate.meanHours(h / 2) + 3));
    CHECK(rate.meanHours(1.1 * h) > 2 * rate.meanHours(0.55 * h) + 3);
    CHECK(rate.meanHours(0.9 * h) < 2 * rate.meanHours(0.45 * h) + 3);
    CHECK(std::isinf(sharedPlateHours({FailureRate::Per::Print, 0.1}, 3)));
    CHECK(std::isinf(sharedPlateHours({FailureRate::Per::Hour, 0}, 3)));
}
