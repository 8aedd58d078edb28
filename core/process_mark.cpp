// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/process_mark.h"

#include <fstream>
#include <iterator>
#include <sstream>
#include <unistd.h>

namespace quoin::core {

namespace {

/// Start of a process in clock ticks since boot; 0 when there is no such process.
std::uint64_t startTicksOf(std::int64_t pid)
{
    std::ifstream in("/proc/" + std::to_string(pid) + "/stat");
    const std::string line{std::istreambuf_iterator<char>(in), {}};
    // Field 2 is the name in parentheses and may hold blanks and parentheses itself.
    const std::size_t name = line.rfind(')');
    if (name == std::string::npos)
        return 0;
    std::istringstream fields(line.substr(name + 1));
    std::string field;
    std::string state;
    fields >> state;
    constexpr int afterState = 22 - 3;
    for (int i = 0; i < afterState; ++i)
        fields >> field;
    // A zombie has ended; only its parent hasn't noticed.
    if (!fields || state == "Z" || state == "X")
        return 0;
    return std::strtoull(field.c_str(), nullptr, 10);
}

std::string bootOfMachine()
{
    std::ifstream in("/proc/sys/kernel/random/boot_id");
    std::string id;
    in >> id;
    return id;
}

} // namespace

ProcessMark ProcessMark::own()
{
    return {::getpid(), startTicksOf(::getpid()), bootOfMachine()};
}

bool ProcessMark::runs() const
{
    const std::uint64_t now = startTicksOf(pid);
    return now != 0 && now == startTicks && boot == bootOfMachine();
}

} // namespace quoin::core
