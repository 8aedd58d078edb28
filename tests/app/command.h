// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

namespace quoin::test {

struct Ran {
    int status = -1;    ///< exit status; 128 + signal when killed
    std::string output; ///< standard output
    std::string error;  ///< standard error
};

/// Runs a program with arguments, no shell between, standard input empty.
Ran ran(const std::string& program, const std::vector<std::string>& arguments);

/// Runs the quoin executable with a configuration folder of its own.
Ran quoinRan(const std::vector<std::string>& arguments);

} // namespace quoin::test
