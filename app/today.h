// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/state_folder.h"

#include <string>

namespace quoin::app {

/// The day as in 2026-11-25, for what the maker writes down.
inline std::string today()
{
    return core::timeStamp().substr(0, std::string("2026-11-25").size());
}

} // namespace quoin::app
