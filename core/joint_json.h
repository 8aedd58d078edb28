// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint.h"
#include "core/json_place.h"

namespace quoin::core {

/// A joint's form for design and project files: the keys that its kind has a use for (DEVELOPERS.md, "Joints in
/// files"). What a kind has no use for is not kept.
nlohmann::json jointFormJson(const JointForm& form);

/// How files wrote joints: as now, or from the time when there were only dowels.
enum class JointFileAge { Now, DowelsOnly };

/// Reads it back and checks every value; JsonPlace::Wrong names the place.
JointForm jointFormFrom(const JsonPlace& place, JointFileAge age = JointFileAge::Now);

/// Options that all joints of a part share, and back.
nlohmann::json jointOptionsJson(const JointOptions& options);
JointOptions jointOptionsFrom(const JsonPlace& place, JointFileAge age = JointFileAge::Now);

/// A kind by its name; Wrong names those that there are.
JointForm::Kind jointKindFrom(const JsonPlace& place);

} // namespace quoin::core
