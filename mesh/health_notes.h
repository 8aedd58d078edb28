// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/health.h"

namespace quoin::mesh {

/// What the figures of a health report say in words. Errors keep a model from being cut, the rest doesn't.
std::vector<Note> healthNotes(const Health& health);

} // namespace quoin::mesh
