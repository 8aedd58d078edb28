// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/print_estimate.h"
#include "core/print_log.h"

#include <optional>

/// What the maker's log of prints teaches about the estimates.
namespace quoin::core {

/// What is going to be printed: rows of the log that are like it count. Empty: not known.
struct PrintScope {
    std::string recipe, material, machine;
};

/// Factors for the model, from the rows of the log that are most like the scope: same machine, material and recipe, if
/// there are three of them; else same machine and material; same machine; same material; else all.
///
/// Grams: actual = mass * modelled. Hours: actual = extrusion * modelled extrusion + overhead * modelled rest. Each row
/// is taken relative to its own model, so that small and large prints count alike. Robust least squares: Huber's loss
/// (Annals of Mathematical Statistics 35, 1964; 1.345 standard deviations, 95 % efficient) by weights that are found
/// again and again (Holland and Welsch 1977), so that one failed or mistyped print pulls little.
///
/// With few rows the factors are held near 1 by what is expected beforehand (normal: 4.5 % for grams, 14 % for each of
/// the hours; common practice, no source), which is the ridge form of the same least squares; the words say so. The
/// spread is half of the 90 % range for the next print: scatter of the rows, and doubt about the factors, by Student's
/// t.
PrintFactors calibrated(const PrintLog& log, const PrintScope& scope);

/// How a past print compares with what would have been said of it without knowing it.
struct PastPrint {
    std::size_t row = 0;              ///< in the log
    std::optional<double> gramsError; ///< estimate over actual, less 1; none when it wasn't weighed
    std::optional<double> hoursError;
    bool gramsInside = false, hoursInside = false; ///< the actual figure lay in the likely range
};

/// How good past estimates were, for one of the two figures. Errors are shares of the actual figure.
struct PastQuality {
    std::size_t prints = 0;
    double medianError = 0;  ///< median of the sizes
    double medianSigned = 0; ///< above 0: estimates were too high
    double worstError = 0;   ///< with its sign
    std::size_t worstRow = 0;
    double coverage = 0; ///< share of the prints inside their likely range; 0.9 is meant
};

/// Every print of the log estimated from all the others.
struct PastEstimates {
    std::vector<PastPrint> prints;
    PastQuality grams, hours;
    std::string words; ///< a sentence or two
};
PastEstimates pastEstimates(const PrintLog& log);

/// Quantile of Student's t for the middle 90 %: t such that a share of 0.95 lies below. Abramowitz and Stegun 26.7.5;
/// good to a hundredth from 3 degrees of freedom on.
double studentNinety(double degreesOfFreedom);

} // namespace quoin::core
