// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/view_scene.h"

namespace quoin::ui {

/// So many selected solids are told from the others by their outlines; of more, each outline would cost a picture more
/// than the solid itself, and hardly be seen for its neighbours'.
inline constexpr std::size_t mostOutlined = 24;

/// The scene, or, when more solids are selected in it, one in which those are only lighter and tinted, so that they are
/// drawn like any others. Null stays null.
ViewScenePtr withPlainSelection(ViewScenePtr scene);

} // namespace quoin::ui
