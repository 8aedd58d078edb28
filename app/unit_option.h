// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/model_file.h"

#include <optional>
#include <string>

namespace quoin::app {

/// The --unit option: none when empty.
inline Result<std::optional<mesh::Unit>> unitOption(const std::string& text)
{
    if (text.empty())
        return std::optional<mesh::Unit>{};
    const auto unit = mesh::unitFromName(text);
    if (!unit)
        return unit.problem();
    return std::optional<mesh::Unit>{*unit};
}

} // namespace quoin::app
