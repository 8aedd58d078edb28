// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <string>

namespace quoin::core {

/// What tells a process from every other: its number is used again, so the boot of the machine and the moment at which
/// it started belong to it.
struct ProcessMark {
    std::int64_t pid = 0;
    std::uint64_t startTicks = 0; ///< since boot: field 22 of /proc/PID/stat (proc(5)); 0 when unknown
    std::string boot;             ///< /proc/sys/kernel/random/boot_id; empty when unknown

    static ProcessMark own();
    /// Whether that very process still runs on this machine.
    bool runs() const;
};

} // namespace quoin::core
