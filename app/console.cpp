// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/console.h"

#include "app/verbs.h"

#include <fmt/format.h>

#include <cstdio>
#include <iostream>
#include <unistd.h>

namespace quoin::app {

Context::Listener progressOnTerminal()
{
    if (isatty(STDERR_FILENO) == 0)
        return {};
    return [](double fraction, std::string_view stage) {
        fmt::print(stderr, "\r\x1b[K{:3.0f} %  {}", 100 * fraction, stage);
        std::fflush(stderr);
    };
}

void clearProgress()
{
    if (isatty(STDERR_FILENO) != 0)
        fmt::print(stderr, "\r\x1b[K");
}

int say(const Problem& problem)
{
    clearProgress();
    std::cerr << "quoin: " << problem.sentence() << "\n";
    return problem.reason == Reason::ProofFailed ? ProofDoesNotHold : BadInput;
}

} // namespace quoin::app
