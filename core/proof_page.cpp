// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/proof.h"

#include "core/html_text.h"
#include "core/proof_groups.h"
#include "core/strength_page.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>
#include <utility>

#include <fmt/format.h>

namespace quoin::core {

using nlohmann::json;

namespace {

constexpr std::string_view style = R"(
:root { color-scheme: light dark; --ink: #1d2023; --soft: #5c636b; --page: #fbfaf8; --card: #ffffff; --line: #dcdad5;
  --good: #0b6e4f; --goodBack: #e3f3ec; --bad: #a3230f; --badBack: #fbe6e1; --care: #7a5300; --careBack: #fdf3dc; }
@media (prefers-color-scheme: dark) { :root { --ink: #e8e6e1; --soft: #a3a9b0; --page: #17191c; --card: #1f2226;
  --line: #383c42; --good: #6fd3ab; --goodBack: #15332a; --bad: #ff9d8a; --badBack: #43201a; --care: #f0c674;
  --careBack: #3a2f17; } }
* { box-sizing: border-box; }
body { margin: 0; background: var(--page); color: var(--ink); font: 16px/1.5 system-ui, sans-serif; }
main { max-width: 72rem; margin: 0 auto; padding: 1.5rem 1.25rem 4rem; }
h1 { font-size: 1.7rem; margin: 0 0 1rem; } h2 { font-size: 1.2rem; margin: 2.4rem 0 .7rem; }
h3 { font-size: 1rem; margin: 1.2rem 0 .4rem; color: var(--soft); }
.verdict { border-radius: .5rem; padding: .9rem 1.1rem; border-left: .4rem solid; }
.verdict strong { font-size: 1.2rem; display: block; }
.good { color: var(--good); } .bad { color: var(--bad); }
.verdict.good { background: var(--goodBack); } .verdict.bad { background: var(--badBack); }
.verdict ul { margin: .5rem 0 0; padding-left: 1.2rem; }
.care { background: var(--careBack); color: var(--care); border-radius: .5rem; padding: .7rem 1.1rem .7rem 2.2rem;
  margin: 0; }
.warn { background: var(--careBack); color: var(--care); border-radius: .5rem; padding: .7rem 1.1rem; }
tr.low { background: var(--badBack); } tr.low strong { color: var(--bad); } small { color: var(--soft); }
.pictures { display: grid; grid-template-columns: repeat(auto-fit, minmax(20rem, 1fr)); gap: 1rem; margin-top: 1.5rem; }
figure { margin: 0; background: var(--card); border: 1px solid var(--line); border-radius: .5rem; overflow: hidden; }
figure object { display: block; width: 100%; background: #f4f4f3; color: #5c636b; }
figcaption { padding: .4rem .8rem; color: var(--soft); font-size: .9rem; }
.wide { overflow-x: auto; background: var(--card); border: 1px solid var(--line); border-radius: .5rem; }
table { border-collapse: collapse; width: 100%; font-size: .92rem; }
th, td { text-align: left; padding: .35rem .7rem; border-top: 1px solid var(--line); vertical-align: top; }
thead th { border-top: 0; color: var(--soft); font-weight: 600; white-space: nowrap; }
.size { white-space: nowrap; }
.n { text-align: right; font-variant-numeric: tabular-nums; white-space: nowrap; }
details { background: var(--card); border: 1px solid var(--line); border-radius: .5rem; margin: .4rem 0; }
summary { padding: .5rem .8rem; cursor: pointer; display: flex; gap: .8rem; align-items: baseline; }
summary .what { flex: 1; } summary .worst { color: var(--soft); font-size: .9rem; white-space: nowrap; }
summary:hover { background: color-mix(in srgb, var(--ink) 5%, transparent); }
summary .mark { font-weight: 700; white-space: nowrap; }
details table { border-top: 1px solid var(--line); }
a { color: inherit; } ol { padding-left: 1.6rem; } li { margin: .15rem 0; }
footer { margin-top: 3rem; color: var(--soft); font-size: .9rem; }
@media print { body { font-size: 12px; } details { break-inside: avoid; } }
)";

std::string relationText(const std::string& relation)
{
    return escaped(relationSign(relation));
}

/// The parts list comes from a file that anyone may have edited: what isn't there or isn't of its kind is left out.
std::string textOf(const json& object, const char* key)
{
    const auto found = object.is_object() ? object.find(key) : object.end();
    return object.is_object() && found != object.end() && found->is_string() ? found->get<std::string>() : "";
}

double numberOf(const json& object, const char* key)
{
    const auto found = object.is_object() ? object.find(key) : object.end();
    return object.is_object() && found != object.end() && found->is_number() ? found->get<double>() : std::nan("");
}

std::string numberCell(double value, const char* format)
{
    return std::isnan(value) ? "<td class=n></td>"
                             : fmt::format("<td class=n>{}</td>", fmt::format(fmt::runtime(format), value));
}

/// Links only to files beside the page: nothing with a scheme, nothing absolute.
std::string linked(const std::string& file, const std::string& words)
{
    const bool local = !file.empty() && file.front() != '/' && file.find(':') == std::string::npos &&
                       file.find("..") == std::string::npos && file.find('\\') == std::string::npos;
    return local ? fmt::format("<a href=\"{}\">{}</a>", escaped(file), escaped(words)) : escaped(words);
}

std::string extentsText(const json& part)
{
    const auto found = part.is_object() ? part.find("extents_mm") : part.end();
    if (!part.is_object() || found == part.end() || !found->is_array())
        return "";
    std::string out;
    for (const json& extent : *found)
        if (extent.is_number())
            out += fmt::format("{}{:.1f}", out.empty() ? "" : " × ", extent.get<double>());
    return out;
}

std::string neighboursText(const json& part)
{
    const auto found = part.is_object() ? part.find("neighbours") : part.end();
    if (!part.is_object() || found == part.end() || !found->is_array())
        return "";
    std::string out;
    for (const json& n : *found)
        if (n.is_number_integer())
            out += (out.empty() ? "" : ", ") + std::to_string(n.get<int>());
    return out;
}

std::string verdictSection(const Proof& proof)
{
    if (proof.claims.empty())
        return "<div class=\"verdict bad\"><strong>Nothing was checked</strong>This page proves nothing.</div>\n";
    const auto failed = std::ranges::count(proof.claims, false, &Claim::holds);
    if (failed == 0)
        return fmt::format(
            "<div class=\"verdict good\"><strong>Proved</strong>All {} claims hold, measured on the files "
            "in this folder.</div>\n",
            proof.claims.size());
    std::string out = fmt::format("<div class=\"verdict bad\"><strong>Not proved</strong>{} of {} claims {}:<ul>",
                                  failed, proof.claims.size(), failed == 1 ? "fails" : "fail");
    constexpr int shown = 12;
    int listed = 0;
    for (const Claim& claim : proof.claims)
        if (!claim.holds && listed++ < shown)
            out += fmt::format("<li>{}: {} ({} {}, limit {} {})</li>", escaped(claim.subject), escaped(claim.text),
                               claimNumber(claim.measured), escaped(claim.unit), relationText(claim.relation),
                               claimNumber(claim.limit));
    if (failed > shown)
        out += fmt::format("<li>and {} more, below</li>", failed - shown);
    return out + "</ul></div>\n";
}

std::string pictureSection()
{
    std::string out = "<div class=pictures>\n";
    constexpr std::array<std::pair<const char*, const char*>, 2> pictures{
        {{"assembled.png", "Assembled; seams as dark lines"}, {"exploded.png", "Taken apart along the cuts"}}};
    // An object, not an img: where the file is missing, its words stand there instead of a broken picture.
    for (const auto& [file, caption] : pictures)
        out +=
            fmt::format("<figure><object data=\"{0}\" type=\"image/png\" role=img aria-label=\"{1}\">&nbsp;{0} isn't "
                        "beside this page.</object><figcaption>{1}</figcaption></figure>\n",
                        file, caption);
    return out + "</div>\n";
}

std::string partsSection(const json& pieces)
{
    const auto list = pieces.is_object() ? pieces.find("pieces") : pieces.end();
    if (!pieces.is_object() || list == pieces.end() || !list->is_array() || list->empty())
        return "";
    std::string out = "<h2>Pieces</h2>\n<div class=wide><table><thead><tr><th class=n>No.<th>What<th class=n>Count"
                      "<th>Size as printed, mm<th class=n>Volume, cm³<th>Bed<th>Stands<th>Meets</tr></thead><tbody>\n";
    for (const json& part : *list) {
        const std::string file = textOf(part, "file"), kind = textOf(part, "kind");
        const std::string name = textOf(part, "name").empty() ? kind : textOf(part, "name");
        const auto flat = part.is_object() ? part.find("stands_flat") : part.end();
        const bool known = part.is_object() && flat != part.end() && flat->is_boolean();
        out += "<tr>" + numberCell(numberOf(part, "number"), "{:.0f}");
        out += "<td>" + linked(file, name.empty() ? file : name);
        out += "</td>" + numberCell(numberOf(part, "count"), "{:.0f}");
        out +=
            "<td class=size>" + extentsText(part) + "</td>" + numberCell(numberOf(part, "volume_mm3") / 1000, "{:.1f}");
        out += "<td>" + escaped(textOf(part, "bed")) + "</td><td>";
        out += !known ? "" : flat->get<bool>() ? "on a flat face" : "with support";
        out += "</td><td>" + neighboursText(part) + "</td></tr>\n";
    }
    return out + "</tbody></table></div>\n";
}

std::string claimGroup(const ClaimGroup& group)
{
    const Claim& worst = *group.tightest;
    const std::size_t count = group.claims.size();
    std::string out = fmt::format(
        "<details{}><summary><span class=\"mark {}\">{}</span><span class=what>{}</span><span class=worst>"
        "{}{} {} (limit {} {})</span></summary><div class=wide><table><thead><tr><th>Of{}<th class=n>Measured"
        "<th class=n>Limit<th>Unit<th>Verdict</tr></thead><tbody>\n",
        group.failed > 0 ? " open" : "", group.failed > 0 ? "bad" : "good",
        group.failed > 0 ? fmt::format("✗ {} of {}", group.failed, count) : fmt::format("✓ {}", count),
        escaped(group.heading), count > 1 && worst.relation != "=" ? "tightest " : "", claimNumber(worst.measured),
        escaped(worst.unit), relationText(worst.relation), claimNumber(worst.limit), group.oneText ? "" : "<th>What");
    for (const Claim* c : group.claims)
        out += fmt::format("<tr><td>{}</td>{}<td class=n>{}</td><td class=n>{} {}</td><td>{}</td>"
                           "<td class={}>{}</td></tr>\n",
                           escaped(c->subject), group.oneText ? "" : "<td>" + escaped(c->text) + "</td>",
                           claimNumber(c->measured), relationText(c->relation), claimNumber(c->limit), escaped(c->unit),
                           c->holds ? "good" : "bad", c->holds ? "holds" : "fails");
    return out + "</tbody></table></div></details>\n";
}

std::string claimsSection(const Proof& proof)
{
    if (proof.claims.empty())
        return "";
    std::string out = "<h2>What was checked</h2>\n";
    std::string_view chapter;
    for (const ClaimGroup& group : groupsOf(proof)) {
        if (group.chapter != chapter)
            out += fmt::format("<h3>{}</h3>\n", chapter = group.chapter);
        out += claimGroup(group);
    }
    return out;
}

std::string listSection(const char* title, const char* tag, const std::vector<std::string>& lines)
{
    if (lines.empty())
        return "";
    std::string out = fmt::format("<h2>{}</h2>\n<{}>\n", title, tag);
    for (const std::string& line : lines)
        out += "<li>" + escaped(withoutNumber(line)) + "</li>\n";
    return out + "</" + std::string(tag).substr(0, 2) + ">\n";
}

} // namespace

std::string toHtml(const Proof& proof, const json& pieces, const std::string& title)
{
    std::string out = fmt::format("<!DOCTYPE html>\n<html lang=en>\n<head>\n<meta charset=utf-8>\n<meta name=viewport "
                                  "content=\"width=device-width, initial-scale=1\">\n<title>{0}</title>\n<style>{1}"
                                  "</style>\n</head>\n<body>\n<main>\n<h1>{0}</h1>\n",
                                  escaped(title), style);
    out += verdictSection(proof);
    out += pictureSection();
    out += partsSection(pieces);
    out += listSection("Cautions", "ul class=care", proof.cautions);
    out += strengthSection(proof.strength);
    out += listSection("Order of assembly", "ol", proof.assembly);
    out += claimsSection(proof);
    return out + "<footer>Measured on the files of this folder, read back after writing. The same numbers are in "
                 "proof.json.</footer>\n</main>\n</body>\n</html>\n";
}

} // namespace quoin::core
