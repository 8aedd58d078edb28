// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/load_case.h"
#include "core/project.h"

#include <QString>

#include <vector>

namespace quoin::ui {

/// What core::checkLoadCase says against a load, told at the field that it is about; empty: nothing.
struct LoadFaults {
    QString factor, gravity, held, fill, glue, bolts, limit;
    std::vector<QString> forces; ///< one for each
    bool any() const;
};

/// Asks it about each field by itself, all others being as usual.
LoadFaults loadFaults(const core::Project& project, const core::LoadCase& load);

/// Piece numbers as people type them: "1, 4", "2 5"; empty: none. None when it is something else.
std::optional<std::vector<int>> numbersFrom(const QString& text);

} // namespace quoin::ui
