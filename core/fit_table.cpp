// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/fit_table.h"

#include "core/iso286.h"
#include "core/same_word.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>

namespace quoin::core {

namespace {

constexpr double leastClearanceMm = -0.5; ///< an interference; more would burst any printed part
constexpr double mostClearanceMm = 5;
constexpr std::size_t longestName = 100, longestSource = 300, longestDate = 40;

// Printed threads: 0.2 to 0.5 mm per side, a bit more than a plain bore (common practice, no source).
constexpr double threadExtraMm = 0.10;
constexpr double leastThreadMm = 0.20, mostThreadMm = 0.50;

constexpr const char* shippedSource = "common practice, no source";

FitRow shippedRow(const Material& material, FitProcess process)
{
    FitRow row{material.name, "", process, 0, 0, 0, 0, shippedSource, ""};
    const auto value = [&](Fit fit) {
        const double mm = material.clearanceMm(fit);
        // Whole micrometres, so that the table reads as it is meant.
        return process == FitProcess::Thread
                   ? std::round(1000 * std::clamp(mm + threadExtraMm, leastThreadMm, mostThreadMm)) / 1000
                   : mm;
    };
    row.freeMm = value(Fit::Free);
    row.slidingMm = value(Fit::Sliding);
    row.snugMm = value(Fit::Snug);
    row.pressMm = value(Fit::Press);
    return row;
}

/// Nothing is known about the material: as wide as any, since parts that are a little loose still go together.
FitRow widest(const std::vector<FitRow>& rows, FitProcess process)
{
    FitRow all{"", "", process, 0, 0, 0, 0, shippedSource, ""};
    for (const FitRow& r : rows)
        if (r.process == process) {
            all.freeMm = std::max(all.freeMm, r.freeMm);
            all.slidingMm = std::max(all.slidingMm, r.slidingMm);
            all.snugMm = std::max(all.snugMm, r.snugMm);
            all.pressMm = std::max(all.pressMm, r.pressMm);
        }
    return all;
}

bool isFor(const FitRow& row, std::string_view material, std::string_view machine, FitProcess process)
{
    return row.process == process && sameWord(row.material, material) && sameWord(row.machine, machine);
}

const FitRow* find(const std::vector<FitRow>& rows, std::string_view material, std::string_view machine,
                   FitProcess process)
{
    const auto at =
        std::find_if(rows.begin(), rows.end(), [&](const FitRow& r) { return isFor(r, material, machine, process); });
    return at != rows.end() ? &*at : nullptr;
}

std::string scopeWords(std::string_view material, std::string_view machine)
{
    if (material.empty())
        return "any material";
    return machine.empty() ? std::string(material) : fmt::format("{} on {}", material, machine);
}

Problem refused(const std::string& what, const std::string& remedy)
{
    return {Reason::BadArgument, what, {}, {}, remedy};
}

Status checkText(const std::string& text, const char* field, std::size_t longest)
{
    const bool printable =
        std::none_of(text.begin(), text.end(), [](char c) { return std::iscntrl(static_cast<unsigned char>(c)) != 0; });
    if (text.size() > longest || !printable)
        return refused(fmt::format("the {} of a row of fits is too long or holds control characters", field),
                       fmt::format("Use at most {} plain characters.", longest));
    return Done{};
}

} // namespace

std::string processName(FitProcess process)
{
    switch (process) {
    case FitProcess::Dowel:
        return "dowel";
    case FitProcess::Key:
        return "key";
    case FitProcess::Thread:
        return "thread";
    case FitProcess::Rod:
        return "rod";
    }
    return {};
}

std::string processWords(FitProcess process)
{
    switch (process) {
    case FitProcess::Dowel:
        return "printed dowel in printed bore";
    case FitProcess::Key:
        return "printed key in printed pocket";
    case FitProcess::Thread:
        return "printed thread";
    case FitProcess::Rod:
        return "bought rod in printed bore";
    }
    return {};
}

Result<FitProcess> processFromText(std::string_view text)
{
    for (const FitProcess p : fitProcesses)
        if (sameWord(text, processName(p)) || sameWord(text, processWords(p)))
            return p;
    return refused(fmt::format("\"{}\" is nothing that a fit is kept for", text),
                   "Known are dowel, key, thread and rod.");
}

double FitRow::clearanceMm(Fit fit) const
{
    switch (fit) {
    case Fit::Free:
        return freeMm;
    case Fit::Sliding:
        return slidingMm;
    case Fit::Snug:
        return snugMm;
    case Fit::Press:
        return pressMm;
    }
    return slidingMm;
}

Status checkFitRow(const FitRow& row)
{
    for (const Status& s :
         {checkText(row.material, "material", longestName), checkText(row.machine, "machine", longestName),
          checkText(row.source, "source", longestSource), checkText(row.date, "date", longestDate)})
        if (!s)
            return s;
    for (const std::string& name : {row.material, row.machine})
        if (!name.empty() && (name.front() == ' ' || name.back() == ' '))
            return refused(fmt::format("the name \"{}\" begins or ends with a blank", name), "Leave the blank out.");
    if (!row.machine.empty() && row.material.empty())
        return refused(fmt::format("a fit for the machine {} needs its material", row.machine),
                       "One machine prints each material to its own clearance: name the material too.");
    for (const Fit fit : {Fit::Free, Fit::Sliding, Fit::Snug, Fit::Press})
        if (!(row.clearanceMm(fit) >= leastClearanceMm && row.clearanceMm(fit) <= mostClearanceMm))
            return refused(fmt::format("the {} clearance of {:g} mm is not between {:g} and {:g} mm", fitName(fit),
                                       row.clearanceMm(fit), leastClearanceMm, mostClearanceMm),
                           "Clearances are per side, in mm.");
    if (row.pressMm > row.snugMm || row.snugMm > row.slidingMm || row.slidingMm > row.freeMm)
        return refused(fmt::format("press {:g}, snug {:g}, sliding {:g} and free {:g} mm don't go from tight to wide",
                                   row.pressMm, row.snugMm, row.slidingMm, row.freeMm),
                       "Press is the tightest, then snug, sliding and free.");
    return Done{};
}

const std::vector<FitRow>& shippedFits()
{
    static const std::vector<FitRow> fits = [] {
        std::vector<FitRow> rows, any;
        for (const Material& m : shippedMaterials())
            for (const FitProcess p : fitProcesses)
                rows.push_back(shippedRow(m, p));
        for (const FitProcess p : fitProcesses)
            any.push_back(widest(rows, p));
        rows.insert(rows.end(), any.begin(), any.end());
        return rows;
    }();
    return fits;
}

std::string FoundFit::words() const
{
    const bool own = origin == Origin::OwnMachine || origin == Origin::OwnMaterial || origin == Origin::OwnProcess;
    return fmt::format("{} row for {}, {}{}", own ? "your own" : "shipped", processWords(row.process),
                       scopeWords(row.material, row.machine),
                       row.source.empty() ? "" : fmt::format(" ({})", row.source));
}

Result<FitTable> FitTable::withRow(FitRow row) const
{
    if (const Status good = checkFitRow(row); !good)
        return good.problem();
    FitTable table = *this;
    const auto same = std::find_if(table.m_own.begin(), table.m_own.end(),
                                   [&](const FitRow& r) { return isFor(r, row.material, row.machine, row.process); });
    if (same != table.m_own.end())
        *same = std::move(row);
    else
        table.m_own.push_back(std::move(row));
    return table;
}

Result<FitTable> FitTable::withoutRow(std::string_view material, std::string_view machine, FitProcess process) const
{
    FitTable table = *this;
    if (std::erase_if(table.m_own, [&](const FitRow& r) { return isFor(r, material, machine, process); }) == 0)
        return refused(
            fmt::format("there is no row of your own for {}, {}", processWords(process), scopeWords(material, machine)),
            "The list of fits shows your own rows; shipped ones stay.");
    return table;
}

FoundFit FitTable::lookup(std::string_view material, std::string_view machine, FitProcess process) const
{
    using Origin = FoundFit::Origin;
    if (!material.empty() && !machine.empty())
        if (const FitRow* row = find(m_own, material, machine, process))
            return {*row, Origin::OwnMachine};
    if (!material.empty())
        if (const FitRow* row = find(m_own, material, "", process))
            return {*row, Origin::OwnMaterial};
    if (const FitRow* row = find(m_own, "", "", process))
        return {*row, Origin::OwnProcess};
    if (!material.empty())
        if (const FitRow* row = find(shippedFits(), material, "", process))
            return {*row, Origin::Shipped};
    return {*find(shippedFits(), "", "", process), Origin::ShippedAnyMaterial};
}

double clearanceFor(const FitTable& table, std::string_view material, std::string_view machine, FitProcess process,
                    Fit fit)
{
    return table.lookup(material, machine, process).row.clearanceMm(fit);
}

Result<RodBore> rodBore(const FitTable& table, std::string_view material, std::string_view machine, Fit fit,
                        std::string_view rodClass, double diameterMm)
{
    const FitRow row = table.lookup(material, machine, FitProcess::Rod).row;
    IsoLimits limits;
    if (!rodClass.empty()) {
        if (rodClass.front() >= 'A' && rodClass.front() <= 'Z')
            return refused(fmt::format("\"{}\" is the class of a hole", rodClass),
                           "A rod has a small letter: h6, h9, h11.");
        const auto known = isoLimits(rodClass, diameterMm);
        if (!known)
            return known.problem();
        limits = *known;
    }
    RodBore bore;
    bore.leastMm = row.clearanceMm(fit);
    bore.clearanceMm = bore.leastMm + limits.upperMm / 2; // 0 for an h class: its largest rod is the nominal one
    bore.mostMm = bore.leastMm + (limits.upperMm - limits.lowerMm) / 2;
    bore.loosest = Fit::Press;
    for (const Fit looser : {Fit::Snug, Fit::Sliding, Fit::Free})
        if (bore.mostMm >= row.clearanceMm(looser))
            bore.loosest = looser;
    return bore;
}

} // namespace quoin::core
