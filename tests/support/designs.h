// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/design.h"

namespace quoin::test {

/// Two parts with something else than the default in every field, and names that are hard on files.
core::Design fullDesign();

/// One box of 120 x 90 x 80 mm at scale 1 with a cut in the middle, and a bed on which the halves fit.
core::Design smallDesign();

} // namespace quoin::test
