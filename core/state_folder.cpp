// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/state_folder.h"

#include <fmt/chrono.h>

#include <cstdlib>

namespace quoin::core {

std::filesystem::path stateFolder()
{
    // An empty or relative value counts as not set, says the specification.
    const char* state = std::getenv("XDG_STATE_HOME");
    if (state != nullptr && std::filesystem::path(state).is_absolute())
        return std::filesystem::path(state) / "quoin";
    const char* home = std::getenv("HOME");
    return std::filesystem::path(home != nullptr ? home : ".") / ".local" / "state" / "quoin";
}

std::string timeStamp()
{
    return timeStampOf(std::time(nullptr));
}

std::string timeStampOf(std::time_t moment)
{
    return fmt::format("{:%Y-%m-%dT%H:%M:%SZ}", fmt::gmtime(moment));
}

} // namespace quoin::core
