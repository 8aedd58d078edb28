// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/plane_cut.h"

namespace quoin::core {

/// Cuts, and closes up the slivers that the cut leaves; a half that is only the tip of a corner is left empty. When
/// earlier cuts have left the outline tangled (several planes through one point, say), it is tried again with larger
/// slivers closed up first.
Result<mesh::CutHalves> cutTidily(const mesh::Mesh& part, const mesh::Plane& plane, mesh::Label label);

} // namespace quoin::core
