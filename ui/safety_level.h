// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/colour.h"

#include <QString>

#include <array>
#include <memory>
#include <vector>

/// How sure a face is to bear its load, in three steps, and how they are told apart: by colour (Okabe and Ito 2008),
/// by the width of a line, and in words.
namespace quoin::ui {

enum class SafetyLevel {
    Unknown, ///< nothing hangs on it, or not reckoned
    Weak,    ///< below the limit
    Near,    ///< up to twice the limit
    Sure
};
inline constexpr std::array shownLevels{SafetyLevel::Weak, SafetyLevel::Near, SafetyLevel::Sure};

/// @param low  as the estimate says: below the limit
SafetyLevel safetyLevel(double safety, bool low, double limit);
Colour safetyColour(SafetyLevel level);
double safetyWidthPx(SafetyLevel level);
/// "below 3: weak", "3 to 6", "above 6"
QString safetyWords(SafetyLevel level, double limit);

/// The faces of a part, for the view.
struct SafetyShown {
    std::shared_ptr<const int> cutStamp; ///< of the pieces that they are faces of
    double limit = 3;
    struct Face {
        SafetyLevel level = SafetyLevel::Unknown;
        std::string words; ///< of a weak one, beside it: "A: 1.8"
    };
    std::vector<Face> faces; ///< by seam
};

} // namespace quoin::ui
