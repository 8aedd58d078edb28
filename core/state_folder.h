// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <ctime>
#include <filesystem>
#include <string>

namespace quoin::core {

/// Where the program keeps what it must not lose between two runs but nobody would copy to another machine:
/// $XDG_STATE_HOME/quoin, else ~/.local/state/quoin (XDG Base Directory Specification 0.8).
std::filesystem::path stateFolder();

/// This moment as "2026-11-25T14:02:37Z" (ISO 8601, UTC): sorts as text in the order of time.
std::string timeStamp();
std::string timeStampOf(std::time_t moment);

} // namespace quoin::core
