// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/calibration.h"

#include "core/same_word.h"
#include "mesh/place.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace quoin::core {

namespace {

constexpr std::size_t enoughRows = 3; ///< for rows that are more alike to count alone
constexpr double huber = 1.345;       ///< standard deviations; 95 % efficient on normal errors (Huber 1964)
constexpr double madToDeviation = 1.4826;
constexpr int rounds = 30;

// What is expected before any print, common practice, no source: how far the model is off on a machine that nobody has
// measured (1 standard deviation of each factor), how much prints of one kind scatter, and how many prints these
// scatters are worth.
constexpr double massDoubt = 0.045, massScatter = 0.025;
constexpr double timeDoubt = 0.14, timeScatter = 0.06;
constexpr double scatterWorth = 6;
constexpr std::array<double, 2> usualShares{0.8, 0.2}; ///< of a print's hours: extruding, and the rest

/// y = x . f, relative to the model.
struct Equation {
    std::array<double, 2> x{};
    double y = 0;
};

struct Fitted {
    std::array<double, 2> factors{1, 1};
    double spread = 0;
};

/// Solution of a symmetric 2 x 2 system, and its inverse.
struct Normal {
    double a = 0, b = 0, c = 0; ///< a b; b c
    std::array<double, 2> rhs{};

    double det() const { return a * c - b * b; }
    std::array<double, 2> solved() const
    {
        return {(c * rhs[0] - b * rhs[1]) / det(), (a * rhs[1] - b * rhs[0]) / det()};
    }
    /// x' inverse x.
    double doubt(const std::array<double, 2>& x) const
    {
        return (c * x[0] * x[0] - 2 * b * x[0] * x[1] + a * x[1] * x[1]) / det();
    }
};

double residual(const Equation& e, const std::array<double, 2>& f)
{
    return e.y - e.x[0] * f[0] - e.x[1] * f[1];
}

double median(std::vector<double> values)
{
    if (values.empty())
        return 0;
    std::sort(values.begin(), values.end());
    const std::size_t n = values.size();
    return n % 2 == 1 ? values[n / 2] : (values[n / 2 - 1] + values[n / 2]) / 2;
}

/// Scatter of the rows, from the median of their residuals, with what is expected beforehand.
double scatterOf(const std::vector<Equation>& rows, const std::array<double, 2>& f, double expected)
{
    std::vector<double> sizes;
    for (const Equation& e : rows)
        sizes.push_back(std::fabs(residual(e, f)));
    const double seen = madToDeviation * median(sizes), n = static_cast<double>(rows.size());
    return std::sqrt((scatterWorth * expected * expected + n * seen * seen) / (scatterWorth + n));
}

/// Huber's estimate with the factors held near 1 (ridge).
Fitted fit(const std::vector<Equation>& rows, double doubt, double expectedScatter, const std::array<double, 2>& usual)
{
    Fitted out;
    Normal normal;
    double scatter = expectedScatter, weights = 0, squares = 0;
    for (int round = 0; round < rounds; ++round) {
        scatter = scatterOf(rows, out.factors, expectedScatter);
        const double hold = scatter * scatter / (doubt * doubt);
        normal = {hold, 0, hold, {hold, hold}};
        weights = squares = 0;
        for (const Equation& e : rows) {
            const double r = residual(e, out.factors), u = std::fabs(r) / scatter;
            const double w = u <= huber ? 1 : huber / u;
            normal.a += w * e.x[0] * e.x[0];
            normal.b += w * e.x[0] * e.x[1];
            normal.c += w * e.x[1] * e.x[1];
            normal.rhs[0] += w * e.x[0] * e.y;
            normal.rhs[1] += w * e.x[1] * e.y;
            weights += w;
            squares += w * r * r;
        }
        out.factors = normal.solved();
    }
    const double freedom = scatterWorth + weights;
    const double variance = (scatterWorth * expectedScatter * expectedScatter + squares) / freedom;
    // Doubt about the factors is in units of the scatter, rows or none.
    const double factorDoubt = variance * normal.doubt(usual);
    out.spread = studentNinety(freedom) * std::sqrt(variance + factorDoubt);
    return out;
}

bool isLike(const PrintedRow& row, const PrintScope& scope, bool machine, bool material, bool recipe)
{
    return (!machine || sameWord(row.machine, scope.machine)) &&
           (!material || sameWord(row.material, scope.material)) && (!recipe || sameWord(row.recipe, scope.recipe));
}

struct Chosen {
    std::vector<const PrintedRow*> rows;
    std::string words; ///< "of PLA on big one"
};

Chosen rowsLike(const std::vector<const PrintedRow*>& rows, const PrintScope& s)
{
    struct Level {
        bool machine, material, recipe;
        std::string words;
    };
    const std::array levels{
        Level{true, true, true, fmt::format("of {} on {} by \"{}\"", s.material, s.machine, s.recipe)},
        Level{true, true, false, fmt::format("of {} on {}", s.material, s.machine)},
        Level{true, false, false, fmt::format("on {}", s.machine)},
        Level{false, true, true, fmt::format("of {} by \"{}\"", s.material, s.recipe)},
        Level{false, true, false, fmt::format("of {}", s.material)}};
    for (const Level& level : levels) {
        if ((level.machine && s.machine.empty()) || (level.material && s.material.empty()) ||
            (level.recipe && s.recipe.empty()))
            continue;
        Chosen out{{}, level.words};
        for (const PrintedRow* row : rows)
            if (isLike(*row, s, level.machine, level.material, level.recipe))
                out.rows.push_back(row);
        if (out.rows.size() >= enoughRows)
            return out;
    }
    return {rows, "of all kinds"};
}

std::string wordsFor(const Chosen& chosen)
{
    if (chosen.rows.empty())
        return "not calibrated: the log holds no print yet";
    std::string words = fmt::format("calibrated by {} {}", mesh::counted(chosen.rows.size(), "print"), chosen.words);
    if (chosen.rows.size() < 2 * enoughRows)
        words += "; that is few, so the figures lean on the uncalibrated ones";
    return words;
}

PrintFactors factorsFrom(const Chosen& chosen)
{
    std::vector<Equation> mass, time;
    std::array<double, 2> usual{};
    for (const PrintedRow* row : chosen.rows) {
        if (row->actualGrams > 0)
            mass.push_back({{1, 0}, row->actualGrams / row->modelGrams});
        if (row->actualHours > 0) {
            const double model = row->modelHours();
            time.push_back(
                {{row->modelExtrusionHours / model, row->modelOverheadHours / model}, row->actualHours / model});
            usual[0] += time.back().x[0];
            usual[1] += time.back().x[1];
        }
    }
    for (double& u : usual)
        u /= std::max<double>(1, static_cast<double>(time.size()));
    const Fitted m = fit(mass, massDoubt, massScatter, {1, 0});
    const Fitted t = fit(time, timeDoubt, timeScatter, time.empty() ? usualShares : usual);
    PrintFactors out;
    out.mass = m.factors[0];
    // Neither can be below nothing, whatever a short log says.
    out.extrusion = std::max(0.1, t.factors[0]);
    out.overhead = std::max(0.0, t.factors[1]);
    out.massSpread = m.spread / out.mass;
    out.timeSpread =
        t.spread / std::max(0.1, usual[0] + usual[1] > 0 ? usual[0] * out.extrusion + usual[1] * out.overhead : 1.0);
    out.rows = static_cast<int>(chosen.rows.size());
    out.words = wordsFor(chosen);
    return out;
}

std::vector<const PrintedRow*> rowsBut(const PrintLog& log, std::size_t without)
{
    std::vector<const PrintedRow*> rows;
    for (std::size_t i = 0; i < log.rows().size(); ++i)
        if (i != without)
            rows.push_back(&log.rows()[i]);
    return rows;
}

/// Errors of one figure over all prints.
class Quality {
public:
    void add(std::size_t row, double error, bool inside)
    {
        m_signed.push_back(error);
        m_sizes.push_back(std::fabs(error));
        m_inside += inside ? 1 : 0;
        if (m_sizes.size() == 1 || std::fabs(error) > std::fabs(m_out.worstError)) {
            m_out.worstError = error;
            m_out.worstRow = row;
        }
    }
    PastQuality result()
    {
        m_out.prints = m_sizes.size();
        m_out.medianError = median(m_sizes);
        m_out.medianSigned = median(m_signed);
        m_out.coverage = m_out.prints == 0 ? 0 : static_cast<double>(m_inside) / static_cast<double>(m_out.prints);
        return m_out;
    }

private:
    PastQuality m_out;
    std::vector<double> m_signed, m_sizes;
    std::size_t m_inside = 0;
};

std::string qualityWords(const char* figure, const PastQuality& q, const PrintLog& log)
{
    if (q.prints == 0)
        return fmt::format("No print has its {} noted.", figure);
    const std::string& piece = log.rows()[q.worstRow].piece;
    return fmt::format(
        "{}: half of {} came out within {:.0f} % of the estimate, the worst {:+.0f} % off ({}), {:.0f} % "
        "within the likely range (90 % are meant).",
        figure, mesh::counted(q.prints, "print"), 100 * q.medianError, 100 * q.worstError,
        piece.empty() ? fmt::format("print {}", q.worstRow + 1) : piece, 100 * q.coverage);
}

} // namespace

double studentNinety(double n)
{
    constexpr double z = 1.6448536269514722; // normal, 0.95
    const double z3 = z * z * z, z5 = z3 * z * z, z7 = z5 * z * z;
    return z + (z3 + z) / (4 * n) + (5 * z5 + 16 * z3 + 3 * z) / (96 * n * n) +
           (3 * z7 + 19 * z5 + 17 * z3 - 15 * z) / (384 * n * n * n);
}

PrintFactors calibrated(const PrintLog& log, const PrintScope& scope)
{
    return factorsFrom(rowsLike(rowsBut(log, log.rows().size()), scope));
}

PastEstimates pastEstimates(const PrintLog& log)
{
    PastEstimates out;
    Quality grams, hours;
    for (std::size_t i = 0; i < log.rows().size(); ++i) {
        const PrintedRow& row = log.rows()[i];
        const PrintFactors f = factorsFrom(rowsLike(rowsBut(log, i), {row.recipe, row.material, row.machine}));
        PastPrint past{i, {}, {}};
        if (row.actualGrams > 0) {
            const double estimate = f.mass * row.modelGrams;
            past.gramsError = estimate / row.actualGrams - 1;
            past.gramsInside = std::fabs(row.actualGrams - estimate) <= f.massSpread * estimate;
            grams.add(i, *past.gramsError, past.gramsInside);
        }
        if (row.actualHours > 0) {
            const double estimate = f.extrusion * row.modelExtrusionHours + f.overhead * row.modelOverheadHours;
            past.hoursError = estimate / row.actualHours - 1;
            past.hoursInside = std::fabs(row.actualHours - estimate) <= f.timeSpread * estimate;
            hours.add(i, *past.hoursError, past.hoursInside);
        }
        out.prints.push_back(past);
    }
    out.grams = grams.result();
    out.hours = hours.result();
    out.words = log.rows().empty()
                    ? "The log holds no print yet."
                    : qualityWords("Weight", out.grams, log) + " " + qualityWords("Time", out.hours, log);
    return out;
}

} // namespace quoin::core
