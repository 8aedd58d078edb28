// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/clearances.h"

#include <utility>

namespace quoin::core {

double& Clearances::of(FitProcess process)
{
    switch (process) {
    case FitProcess::Dowel:
        return dowelMm;
    case FitProcess::Key:
        return keyMm;
    case FitProcess::Thread:
        return threadMm;
    case FitProcess::Rod:
        return rodMm;
    }
    return dowelMm;
}

double Clearances::of(FitProcess process) const
{
    Clearances copy = *this;
    return copy.of(process);
}

Clearances clearancesFor(const std::vector<FitRow>& own, std::string_view material, std::string_view machine, Fit fit)
{
    FitTable table;
    for (const FitRow& row : own)
        if (auto next = table.withRow(row))
            table = std::move(*next);
    Clearances clearances;
    for (const FitProcess process : fitProcesses)
        clearances.of(process) = clearanceFor(table, material, machine, process, fit);
    return clearances;
}

} // namespace quoin::core
