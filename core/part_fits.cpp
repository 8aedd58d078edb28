// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/part_fits.h"

namespace quoin::core {

PartDesign withFits(const PartDesign& part, const FitTable& table)
{
    PartDesign next = part;
    next.fits.clear();
    for (const FitProcess process : fitProcesses) {
        const FoundFit found = table.lookup(part.material, part.machine, process);
        if (found.origin != FoundFit::Origin::Shipped && found.origin != FoundFit::Origin::ShippedAnyMaterial)
            next.fits.push_back(found.row);
    }
    return next;
}

Design withFits(const Design& design, const FitTable& table)
{
    Design next = design;
    for (PartDesign& part : next.parts)
        part = withFits(part, table);
    return next;
}

} // namespace quoin::core
