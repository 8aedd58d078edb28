// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/assembly.h"

#include <string>
#include <vector>

/// For core/assembly*.cpp only.
namespace quoin::core {

/// "1, 2 and 5".
std::string numberWords(const std::vector<int>& pieces);

/// Puts steps into words.
class AssemblyWords {
public:
    explicit AssemblyWords(const AssemblyInput& input);

    /// In the order of putting together.
    void describe(std::vector<AssemblyStep>& steps);

private:
    std::string side(const std::vector<int>& pieces);
    std::string jointWords(const AssemblyStep& step) const;
    std::string lastWords(const AssemblyStep& step) const;
    std::string motionWords(const AssemblyStep& step) const;
    int root(int piece);
    void join(int a, int b);

    const AssemblyInput& m_input;
    std::vector<int> m_up; ///< which pieces hang together so far
};

} // namespace quoin::core
