// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/material.h"

#include "core/same_word.h"

namespace quoin::core {

std::string fitName(Fit fit)
{
    switch (fit) {
    case Fit::Free:
        return "free";
    case Fit::Sliding:
        return "sliding";
    case Fit::Snug:
        return "snug";
    case Fit::Press:
        return "press";
    }
    return {};
}

double Material::clearanceMm(Fit fit) const
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

const std::vector<Material>& shippedMaterials()
{
    // Densities: middle of the makers' published ranges (PLA 1.22-1.26, PETG 1.25-1.29: additive.tools; ABS, ASA, PA
    // from memory). Clearances per side (press 0.10-0.15, sliding 0.2-0.3, loose 0.3-0.5 mm): common practice, no
    // source; the materials that shrink more get the wider end.
    static const std::vector<Material> materials{
        {"PLA", 1.24, 0.40, 0.25, 0.15, 0.10},  {"PETG", 1.27, 0.40, 0.25, 0.15, 0.10},
        {"ABS", 1.05, 0.45, 0.30, 0.20, 0.12},  {"ASA", 1.07, 0.45, 0.30, 0.20, 0.12},
        {"PA12", 1.01, 0.50, 0.30, 0.20, 0.15}, {"PA6", 1.13, 0.50, 0.30, 0.20, 0.15},
    };
    return materials;
}

const Material* findMaterial(std::string_view name)
{
    for (const Material& m : shippedMaterials())
        if (sameWord(m.name, name))
            return &m;
    return nullptr;
}

} // namespace quoin::core
