// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/part_fits.h"

namespace quoin::ui {

class Bench;

/// The maker's own rows as they are on disk now; none, and the bench says why, when they can't be read.
core::FitTable ownFits(Bench& bench);

} // namespace quoin::ui
