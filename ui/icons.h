// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QIcon>

namespace quoin::ui {

/// Our own line drawings, in the manner of technical drawings (ISO 128): thick outlines, thin dimension lines, chain
/// lines for cutting planes. They follow the palette and stay sharp at any scale.
enum class Icon {
    Open,
    Save,
    Undo,
    Redo,
    AddPart,
    Duplicate,
    Remove,
    AddCut,
    Flip,
    MoveUp,
    MoveDown,
    Measure,
    MeasureAngle,
    MeasureRadius,
    Paint,
    FitView,
    Explode,
    Isolate,
    PrintPose,
    Suggest,
    Play,
    Stop,
    Export,
    Settings,
    Copy,
    Clear,
    Section,
    Edges,
    Person,
    Perspective,
    Parallel
};
inline constexpr int iconCount = static_cast<int>(Icon::Parallel) + 1;

QIcon icon(Icon which);

} // namespace quoin::ui
