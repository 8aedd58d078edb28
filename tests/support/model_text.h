// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/model_file.h"

#include <filesystem>
#include <string>

namespace quoin::test {

/// Writes bytes as they are; reads them back.
void putContent(const std::filesystem::path& file, const std::string& bytes);
std::string contentOf(const std::filesystem::path& file);

/// Reads a model from bytes, by way of a file of the given extension in a folder of its own.
Result<mesh::Model> readBytes(const std::string& bytes, const std::string& extension,
                              const mesh::ReadOptions& options = {});

/// Whether one of the model's notes holds the words.
bool hasNote(const mesh::Model& model, const std::string& words);

} // namespace quoin::test
