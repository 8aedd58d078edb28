// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/design.h"
#include "mesh/context.h"
#include "mesh/health.h"
#include "mesh/result.h"

#include <filesystem>

namespace quoin::core {

/// A file made ready to be a part: read, checked, mended if allowed.
struct LoadedModel {
    PartDesign part; ///< no id yet
    mesh::Health health;
    std::vector<Note> notes;
};

/// Reads a model file. A model that is not sound is mended when `repair` allows it, else refused with what is wrong
/// and where.
Result<LoadedModel> loadModel(const std::filesystem::path& file, const mesh::ReadOptions& read, bool repair,
                              const Context& context = {});

} // namespace quoin::core
