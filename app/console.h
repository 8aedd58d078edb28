// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/context.h"

namespace quoin::app {

/// Shows progress on one line of standard error when that is a terminal; silent otherwise.
Context::Listener progressOnTerminal();
/// Wipes the progress line.
void clearProgress();

} // namespace quoin::app
