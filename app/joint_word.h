// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint.h"

#include <optional>
#include <string>
#include <vector>

namespace quoin::app {

/// Kinds as they are typed: "draw-bolt".
std::vector<std::string> jointWords();
std::optional<core::JointForm::Kind> jointKindOf(const std::string& word);

/// What can be asked for a face: those, and "screw+key" or "stud+key": with a clocking key beside it.
std::vector<std::string> jointWishWords();
struct JointWish {
    std::optional<core::JointForm::Kind> kind;
    bool clocked = false;
};
JointWish jointWishOf(const std::string& word);

} // namespace quoin::app
