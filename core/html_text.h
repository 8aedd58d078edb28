// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <string_view>

namespace quoin::core {

/// A text for an HTML or SVG page, in an element or in a quoted attribute; control characters, which neither may hold,
/// become spaces.
std::string escaped(std::string_view text);

} // namespace quoin::core
