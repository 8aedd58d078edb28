// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <string_view>

namespace quoin::core {

/// A text for an HTML page, in an element or in a quoted attribute.
std::string escaped(std::string_view text);

} // namespace quoin::core
