// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/proof_evidence.h"

namespace quoin::core {

/// Every loose part of the files goes into the bore on either side, straight or along its thread: swept on the files'
/// surfaces over its whole reach.
void proveInsertion(const Evidence& evidence, Proof& proof);

} // namespace quoin::core
