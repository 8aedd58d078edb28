// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint.h"

/// What the two halves of the joint editor both go by.
namespace quoin::ui {

/// Who carries a joint, as the data of a choice.
inline constexpr int looseCarrier = -1, carrierBelow = 0, carrierAbove = 1;

inline bool threaded(const core::JointForm& joint)
{
    return joint.kind == core::JointForm::Kind::Screw || joint.kind == core::JointForm::Kind::Stud;
}

} // namespace quoin::ui
