// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/bed.h"
#include "mesh/result.h"

#include <QString>

namespace quoin::ui {

/// "300 × 300 × 400 mm", "round, 250 mm across, 300 mm high".
QString bedSizeWords(const core::Bed& bed);

/// "workshop" with its size when the name doesn't say it, and the machines when there are several.
QString bedWords(const core::Bed& bed);

/// What is wrong and what to do, with a capital and full stops, for a line beside a field.
QString problemWords(const Problem& problem);

} // namespace quoin::ui
