// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/many_selected.h"

#include <algorithm>

namespace quoin::ui {

namespace {

constexpr double whiteShare = 0.45, glowShare = 0.35;

Colour mix(const Colour& a, const Colour& b, double share)
{
    return {a.r + share * (b.r - a.r), a.g + share * (b.g - a.g), a.b + share * (b.b - a.b)};
}

} // namespace

ViewScenePtr withPlainSelection(ViewScenePtr scene)
{
    if (!scene || std::ranges::count_if(scene->items, &ViewItem::glowing) <= static_cast<std::ptrdiff_t>(mostOutlined))
        return scene;
    auto plain = std::make_shared<ViewScene>(*scene);
    for (ViewItem& item : plain->items)
        if (item.glowing) {
            item.glowing = false;
            item.colour = mix(mix(item.colour, {1, 1, 1}, whiteShare), scene->glowColour, glowShare);
        }
    return plain;
}

} // namespace quoin::ui
