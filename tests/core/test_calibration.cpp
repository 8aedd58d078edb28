// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/calibration.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <random>

using namespace quoin;
using namespace quoin::core;

namespace {

/// A shop whose machine is off by known factors and scatters by a known amount.
PrintLog logOf(int prints, double mass, double extrusion, double overhead, double scatter, unsigned seed = 7)
{
    std::mt19937 random(seed);
    std::normal_distribution<double> normal(0, scatter);
    PrintLog log;
    for (int i = 0; i < prints; ++i) {
        PrintedRow row{"2026-11-01", "piece", "0.6 standard", "PLA", "big one"};
        row.modelGrams = 100 + 37 * (i % 11);
        row.modelExtrusionHours = 2 + (i * 7) % 5;
        row.modelOverheadHours = 0.3 + 0.4 * (i % 4); // the share differs from print to print
        row.actualGrams = mass * row.modelGrams * (1 + normal(random));
        row.actualHours = extrusion * row.modelExtrusionHours + overhead * row.modelOverheadHours;
        row.actualHours *= 1 + normal(random);
        log = *log.withRow(row);
    }
    return log;
}

const PrintScope here{"0.6 standard", "PLA", "big one"};

} // namespace

TEST_CASE("calibration: an empty log changes nothing, and says so")
{
    const PrintFactors f = calibrated({}, here);
    CHECK(f.mass == Approx(1));
    CHECK(f.extrusion == Approx(1));
    CHECK(f.overhead == Approx(1));
    CHECK(f.rows == 0);
    CHECK(f.words.find("not calibrated") != std::string::npos);
    // A tenth for weight, a quarter for time: common practice, no source.
    CHECK(f.massSpread == Approx(0.10).margin(0.01));
    CHECK(f.timeSpread == Approx(0.25).margin(0.02));
}

TEST_CASE("calibration: many prints give back the factors that they were made with")
{
    const PrintFactors f = calibrated(logOf(60, 1.07, 1.15, 1.6, 0.02), here);
    CHECK(f.mass == Approx(1.07).epsilon(0.01));
    CHECK(f.extrusion == Approx(1.15).epsilon(0.02));
    CHECK(f.overhead == Approx(1.6).epsilon(0.06));
    CHECK(f.rows == 60);
    CHECK(f.words.find("60 prints of PLA on big one") != std::string::npos);
    CHECK(f.words.find("few") == std::string::npos);
    CHECK(f.massSpread < 0.05);
}

TEST_CASE("calibration: one print pulls a little, three more, and the words say that it is few")
{
    const PrintFactors one = calibrated(logOf(1, 1.2, 1.3, 1.3, 0), here);
    const PrintFactors three = calibrated(logOf(3, 1.2, 1.3, 1.3, 0), here);
    CHECK(one.mass > 1.02);
    CHECK(one.mass < three.mass);
    CHECK(three.mass < 1.2);
    CHECK(one.extrusion < three.extrusion);
    CHECK(three.extrusion < 1.3);
    CHECK(one.words.find("few") != std::string::npos);
    CHECK(three.words.find("few") != std::string::npos);
}

TEST_CASE("calibration: one failed print among twenty hardly pulls (Huber 1964)")
{
    PrintLog log = logOf(20, 1.05, 1.1, 1.1, 0.01);
    PrintedRow bad = log.rows().front();
    bad.actualGrams = 4 * bad.modelGrams;
    bad.actualHours = 5 * bad.modelHours();
    log = *log.withRow(bad);
    const PrintFactors f = calibrated(log, here);
    CHECK(f.mass == Approx(1.05).epsilon(0.01));
    CHECK(f.extrusion == Approx(1.1).epsilon(0.03));
    // The mean of the weights alone would be 1.19.
    CHECK(f.mass < 1.07);
}

TEST_CASE("calibration: rows most like the print count; others only where these are too few")
{
    PrintLog log = logOf(10, 1.1, 1, 1, 0.01);
    for (PrintedRow row : logOf(10, 0.9, 1, 1, 0.01, 3).rows()) {
        row.machine = "small one";
        log = *log.withRow(row);
    }
    CHECK(calibrated(log, here).mass == Approx(1.1).epsilon(0.015));
    CHECK(calibrated(log, {"0.6 standard", "PLA", "small one"}).mass == Approx(0.9).epsilon(0.015));
    // Another recipe on the same machine: by material and machine.
    const PrintFactors other = calibrated(log, {"1.0 strong", "PLA", "small one"});
    CHECK(other.mass == Approx(0.9).epsilon(0.015));
    CHECK(other.words.find("of PLA on small one") != std::string::npos);
    CHECK(calibrated(log, {"", "", ""}).rows == 20);
    CHECK(calibrated(log, {"1.0 strong", "PETG", "small one"}).words.find("on small one") != std::string::npos);
}

TEST_CASE("calibration: the likely range holds nine of ten new prints")
{
    // Normal scatter of 4 %; a log of 25 prints, then 400 others from the same shop.
    const PrintFactors f = calibrated(logOf(25, 1.06, 1.12, 1.3, 0.04), here);
    int grams = 0, hours = 0;
    const PrintLog others = logOf(400, 1.06, 1.12, 1.3, 0.04, 99);
    for (const PrintedRow& row : others.rows()) {
        const double g = f.mass * row.modelGrams;
        const double h = f.extrusion * row.modelExtrusionHours + f.overhead * row.modelOverheadHours;
        grams += std::fabs(row.actualGrams - g) <= f.massSpread * g ? 1 : 0;
        hours += std::fabs(row.actualHours - h) <= f.timeSpread * h ? 1 : 0;
    }
    CHECK(grams / 400.0 == Approx(0.9).margin(0.06));
    CHECK(hours / 400.0 == Approx(0.92).margin(0.08)); // a little wide: what is expected beforehand scatters more
}

TEST_CASE("calibration: the report says how good past estimates were")
{
    PrintLog log = logOf(15, 1.05, 1.1, 1.2, 0.03);
    PrintedRow worst = log.rows().front();
    worst.piece = "left wing 4";
    worst.actualGrams = worst.modelGrams * 1.5;
    worst.actualHours = 0; // not noted
    log = *log.withRow(worst);
    const PastEstimates past = pastEstimates(log);
    CHECK(past.grams.prints == 16);
    CHECK(past.hours.prints == 15);
    CHECK(past.grams.worstRow == 15);
    CHECK(past.grams.worstError == Approx(1.05 / 1.5 - 1).margin(0.02));
    CHECK(past.grams.medianError < 0.04);
    CHECK(past.grams.coverage >= 12 / 16.0);
    CHECK(past.grams.coverage < 1);
    CHECK_FALSE(past.prints[15].gramsInside);
    CHECK_FALSE(past.prints[15].hoursError.has_value());
    CHECK(past.words.find("left wing 4") != std::string::npos);
    CHECK(pastEstimates({}).words == "The log holds no print yet.");
}

TEST_CASE("calibration: Student's t against the table")
{
    // One-sided 95 %: 3 degrees 2.353, 6: 1.943, 10: 1.812, 30: 1.697, 120: 1.658 (any statistical table).
    CHECK(studentNinety(3) == Approx(2.353).margin(0.01));
    CHECK(studentNinety(6) == Approx(1.943).margin(0.002));
    CHECK(studentNinety(10) == Approx(1.812).margin(0.001));
    CHECK(studentNinety(30) == Approx(1.697).margin(0.001));
    CHECK(studentNinety(120) == Approx(1.658).margin(0.001));
}
