// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/strength_page.h"

#include "core/html_text.h"

#include <fmt/format.h>

#include <cmath>

namespace quoin::core {

namespace {

std::string hangingText(const JointCheck& j)
{
    if (j.hanging.hanging == 0)
        return "nothing: both pieces are fixed";
    std::string pieces;
    for (const int n : j.hanging.pieces)
        pieces += (pieces.empty() ? "" : ", ") + std::to_string(n);
    return fmt::format("{:.2f} kg ({} {} on {}){}", j.hanging.massKg, j.hanging.pieces.size() == 1 ? "piece" : "pieces",
                       pieces, j.hanging.held,
                       j.shared           ? ", with other seams"
                       : j.hanging.inLoop ? ", as if no other seam helped"
                                          : "");
}

std::string forcesText(const SectionForces& f)
{
    return fmt::format("{} {:.1f} N<br>shear {:.1f} N<br>bending {:.2f} N m<br>torsion {:.2f} N m",
                       f.axialN < 0 ? "pressed by" : "pulled by", std::abs(f.axialN), length(f.shearN),
                       length(f.bendingNmm) / 1000, std::abs(f.torsionNmm) / 1000);
}

std::string row(const JointCheck& j, double limit)
{
    std::string out = fmt::format("<tr{}><td>{}</td><td>{}</td>", j.low ? " class=low" : "", escaped(j.marks),
                                  escaped(hangingText(j)));
    if (j.hanging.hanging == 0)
        return out + "<td></td><td></td><td class=n></td><td class=n></td><td class=n></td></tr>\n";
    out += "<td class=size>" + forcesText(j.forces) + "</td>";
    if (j.checks.empty() || !std::isfinite(j.safety))
        return out + "<td>nothing strains it</td><td class=n></td><td class=n></td><td class=n></td></tr>\n";
    const StrengthCheck& c = j.checks[j.weakest];
    out +=
        fmt::format("<td>{}<br><small>{}<br>{}</small></td>", escaped(c.name), escaped(c.formula), escaped(c.source));
    out += fmt::format("<td class=n>{:.4g} {}</td><td class=n>{:.4g} {}</td>", c.demand, escaped(c.unit), c.capacity,
                       escaped(c.unit));
    return out + (j.low ? fmt::format("<td class=n><strong>{:.2f}</strong><br>below {:g}</td></tr>\n", j.safety, limit)
                        : fmt::format("<td class=n>{:.2f}</td></tr>\n", j.safety));
}

std::string table(const StrengthReport& report, double limit)
{
    if (report.joints.empty())
        return "<p>There is no seam: nothing hangs on a joint.</p>\n";
    std::string out = "<div class=wide><table><thead><tr><th>Seam<th>Hangs on it<th>Load<th>Weakest check"
                      "<th class=n>Asked<th class=n>Bears<th class=n>Safety</tr></thead><tbody>\n";
    for (const JointCheck& j : report.joints)
        out += row(j, limit);
    return out + "</tbody></table></div>\n";
}

} // namespace

std::string strengthSection(const StrengthEstimate& estimate)
{
    if (!estimate.report && estimate.whyNot.empty())
        return "";
    std::string out = "<h2>Strength</h2>\n<p class=warn>" + escaped(strengthCaution()) + "</p>\n";
    if (!estimate.report)
        return out + "<p>Strength was not estimated: " + escaped(estimate.whyNot) + "</p>\n";
    std::string notes;
    for (const Note& n : estimate.report->notes)
        if (n.place.empty() && n.text != strengthCaution()) // those of seams are the table's
            notes += fmt::format("<li{}>{}</li>\n", n.severity == Note::Severity::Warning ? " class=bad" : "",
                                 escaped(n.text));
    out += table(*estimate.report, estimate.load.safetyLimit);
    return out + "<ul>\n" + notes +
           "</ul>\n<p>These are no claims: the proof holds or fails without them. Every check of every seam is in "
           "strength.json.</p>\n";
}

} // namespace quoin::core
