// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/html_text.h"
#include "core/nest_outline.h"
#include "core/print_plan.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace quoin::core {

namespace {

/// Soft colours that can be told apart, for plates by turns.
constexpr std::array<const char*, 8> colours{"#9db8d3", "#d9b38c", "#a9c9a4", "#cfa8c4",
                                             "#d6cf8f", "#9fcbc9", "#d4a5a0", "#b5b2da"};

std::string pathOf(const mesh::Region& region)
{
    std::string d;
    for (const mesh::Loop& loop : region) {
        for (std::size_t i = 0; i < loop.size(); ++i)
            d += fmt::format("{}{:.2f} {:.2f}", i == 0 ? "M" : "L", loop[i].x, -loop[i].y); // y points down in SVG
        d += "Z";
    }
    return d;
}

std::string text(double x, double y, double size, const std::string& words, const char* anchor = "start")
{
    return fmt::format("<text x=\"{:.2f}\" y=\"{:.2f}\" font-size=\"{:g}\" text-anchor=\"{}\">{}</text>\n", x, y, size,
                       anchor, escaped(words));
}

constexpr double dayWidth = 48, rowHeight = 46, leftWidth = 110, topHeight = 34; ///< of the chart

/// The chart's axes: days across, machines down.
class Chart {
public:
    explicit Chart(const PrintPlan& plan)
        : m_plan(plan), m_first(std::chrono::floor<std::chrono::days>(plan.request.start))
    {
        Moment last = std::max(plan.finish, plan.request.deadline.value_or(plan.finish));
        m_days = static_cast<int>((std::chrono::floor<std::chrono::days>(last) - m_first).count()) + 1;
    }

    std::string drawn() const
    {
        const double width = leftWidth + m_days * dayWidth + 10;
        const double height = topHeight + static_cast<double>(m_plan.request.machines.size()) * rowHeight + 24;
        std::string out = fmt::format("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0:g}\" height=\"{1:g}\" "
                                      "viewBox=\"0 0 {0:g} {1:g}\" font-family=\"sans-serif\" fill=\"#222\">\n"
                                      "<rect width=\"{0:g}\" height=\"{1:g}\" fill=\"#fff\"/>\n",
                                      width, height);
        for (std::size_t m = 0; m < m_plan.request.machines.size(); ++m)
            out += row(m);
        out += days(height);
        for (const PlanBar& b : m_plan.bars)
            out += bar(b);
        if (m_plan.request.deadline) {
            const double x = xOf(*m_plan.request.deadline);
            out += fmt::format("<line x1=\"{0:.2f}\" x2=\"{0:.2f}\" y1=\"{1:g}\" y2=\"{2:g}\" stroke=\"#b00020\" "
                               "stroke-width=\"2\"/>\n",
                               x, topHeight - 6, height - 18);
            out += text(x, height - 6, 11, "deadline " + momentWords(*m_plan.request.deadline), "end");
        }
        return out + "</svg>\n";
    }

private:
    double xOf(Moment moment) const
    {
        return leftWidth + dayWidth * static_cast<double>((moment - Moment(m_first)).count()) / (24 * 60);
    }

    /// The machine's name, and the hours in which somebody is there.
    std::string row(std::size_t m) const
    {
        const Machine& machine = m_plan.request.machines[m];
        const double y = topHeight + static_cast<double>(m) * rowHeight;
        std::string out = text(6, y + rowHeight / 2 + 4, 12, machine.name);
        for (int d = 0; d < m_days; ++d) {
            const auto day = m_first + std::chrono::days(d);
            if (std::find(machine.calendar.away.begin(), machine.calendar.away.end(), day) !=
                machine.calendar.away.end())
                continue;
            for (const Attended& a : machine.calendar.days[std::chrono::weekday(day).iso_encoding() - 1]) {
                const double from = xOf(Moment(day) + Minutes(a.fromMinute)),
                             to = xOf(Moment(day) + Minutes(a.toMinute));
                out += fmt::format("<rect x=\"{:.2f}\" y=\"{:.2f}\" width=\"{:.2f}\" height=\"{:g}\" "
                                   "fill=\"#eef3e6\"/>\n",
                                   from, y + 2, to - from, rowHeight - 4);
            }
        }
        return out;
    }

    std::string days(double height) const
    {
        std::string out;
        for (int d = 0; d <= m_days; ++d) {
            const Moment day = Moment(m_first + std::chrono::days(d));
            out += fmt::format("<line x1=\"{0:.2f}\" x2=\"{0:.2f}\" y1=\"{1:g}\" y2=\"{2:g}\" stroke=\"#ccc\"/>\n",
                               xOf(day), topHeight - 4, height - 20);
            if (d < m_days) {
                const std::string words = momentWords(day);
                out += text(xOf(day) + 3, topHeight - 10, 10, words.substr(0, words.rfind(' ')));
            }
        }
        return out;
    }

    std::string bar(const PlanBar& b) const
    {
        const double y = topHeight + static_cast<double>(b.machine) * rowHeight + 8;
        const double from = xOf(b.start), to = xOf(b.end);
        std::string out = fmt::format(
            "<g><title>Plate {}: {}; {:.1f} h, {:.0f} g</title><rect x=\"{:.2f}\" y=\"{:g}\" width=\"{:.2f}\" "
            "height=\"{:g}\" rx=\"2\" fill=\"{}\" stroke=\"#555\" stroke-width=\"0.7\"{}/></g>\n",
            m_plan.plates[b.plate].number, escaped(b.words), b.hours, b.grams, from, y, std::max(to - from, 1.0),
            rowHeight - 16, colours[b.plate % colours.size()], b.endsAttended ? "" : " stroke-dasharray=\"3 2\"");
        return out + text((from + to) / 2, y + (rowHeight - 16) / 2 + 4, 10,
                          std::to_string(m_plan.plates[b.plate].number), "middle");
    }

    const PrintPlan& m_plan;
    std::chrono::local_days m_first;
    int m_days = 1;
};

} // namespace

std::string chartSvg(const PrintPlan& plan)
{
    return Chart(plan).drawn();
}

std::string plateSvg(const PrintPlan& plan, std::size_t index)
{
    const Plate& plate = plan.plates[index];
    const Machine& machine = plan.request.machines[plate.laidOutFor];
    const double w = machine.bed.widthMm, d = machine.bed.depthMm, m = machine.marginMm;
    // Millimetres: width and height in mm, and a viewBox of as many user units.
    std::string out = fmt::format("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0:g}mm\" height=\"{1:g}mm\" "
                                  "viewBox=\"{2:g} {3:g} {0:g} {1:g}\" font-family=\"sans-serif\" fill=\"#222\">\n",
                                  w + 10, d + 24, -w / 2 - 5, -d / 2 - 5);
    if (machine.bed.shape == Bed::Shape::Round)
        out += fmt::format("<circle r=\"{:g}\" fill=\"#fafafa\" stroke=\"#333\"/>\n<circle r=\"{:g}\" fill=\"none\" "
                           "stroke=\"#bbb\" stroke-dasharray=\"4 3\"/>\n",
                           w / 2, w / 2 - m);
    else
        out += fmt::format("<rect x=\"{:g}\" y=\"{:g}\" width=\"{:g}\" height=\"{:g}\" fill=\"#fafafa\" "
                           "stroke=\"#333\"/>\n<rect x=\"{:g}\" y=\"{:g}\" width=\"{:g}\" height=\"{:g}\" "
                           "fill=\"none\" stroke=\"#bbb\" stroke-dasharray=\"4 3\"/>\n",
                           -w / 2, -d / 2, w, d, -w / 2 + m, -d / 2 + m, w - 2 * m, d - 2 * m);
    const auto outlines = placedOutlines(plan.job, plate);
    for (std::size_t i = 0; i < outlines.size(); ++i) {
        const PlatePieceInfo& piece = plan.job.pieces[plate.pieces[i].piece];
        const FlatBox box = flatBounds(outlines[i]);
        out += fmt::format("<path d=\"{}\" fill=\"{}\" fill-rule=\"evenodd\" stroke=\"#444\" stroke-width=\"0.4\">"
                           "<title>{}: {:.1f} h, {:.0f} g</title></path>\n",
                           pathOf(outlines[i]), colours[i % colours.size()], escaped(piece.name), piece.figures.hours,
                           piece.figures.grams);
        const double size = std::clamp(
            (box.high.x - box.low.x) / (0.65 * std::max(3.0, static_cast<double>(piece.name.size()))), 1.5, 8.0);
        out += text((box.low.x + box.high.x) / 2, -(box.low.y + box.high.y) / 2 + size / 3, size, piece.name, "middle");
    }
    out += text(-w / 2, d / 2 + 10, 7,
                fmt::format("Plate {}: {}, {}, {}; {:.1f} h, {:.0f} g", plate.number, machine.name, plate.material,
                            plate.recipe, plate.hours / machine.speedFactor, plate.grams));
    return out + "</svg>\n";
}

} // namespace quoin::core
