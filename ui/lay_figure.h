// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"

namespace quoin::ui {

/// A sculptor's lay figure, standing, ui::personHeightMm tall, feet on z = 0 about the origin, facing -y: beside a
/// model it says how large that is. To be looked at only: its limbs overlap. Proportions: common practice, no source
/// (seven and a half heads tall).
mesh::Mesh layFigure();

} // namespace quoin::ui
