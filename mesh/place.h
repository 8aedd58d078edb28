// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/vec3.h"

#include <string>

namespace quoin::mesh {

/// "(10.000, 2.500, 0.000) mm": how places are written in notes and problems.
std::string placeText(Vec3 p);

/// "1 hole", "5 holes": the plural in s unless another one is given.
std::string counted(std::size_t count, const std::string& one, const std::string& many = "");

} // namespace quoin::mesh
