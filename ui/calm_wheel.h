// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

class QWidget;

namespace quoin::ui {

/// Keeps the wheel from changing boxes, sliders and spin boxes that are only scrolled past: below `panel`, those that
/// are there now turn with the wheel only while they have the focus; else the panel scrolls.
void calmWheel(QWidget& panel);

} // namespace quoin::ui
