// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/context.h"
#include "mesh/result.h"

#include <string_view>

namespace quoin::mesh {

/// What is looked at in a 3MF package before lib3mf 1.8 is let loose on it, because that library
/// - takes numbers that it can't read for 0 ("w") or cuts them short ("6,5" is 6), and unknown units for millimetres;
/// - walks components without memory, so that forty objects of two components each keep it busy for years, and deep
///   nesting overflows its stack;
/// - unpacks whatever it is given.
/// FileMalformed and NumberNotFinite with part and line, FileTooLarge, FileTruncated, Cancelled.
Status checkThreeMf(std::string_view package, const Context& context);

} // namespace quoin::mesh
