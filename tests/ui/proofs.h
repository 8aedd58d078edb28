// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/proof.h"

namespace quoin::test {

/// Seven claims of four kinds; one wall is too thin when `failing`.
core::Proof smallProof(bool failing);
/// Claims of ten kinds by the thousand, one in 1500 failing.
core::Proof largeProof(int claims);

} // namespace quoin::test
