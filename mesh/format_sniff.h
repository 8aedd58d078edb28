// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/model_readers.h"

#include <filesystem>
#include <string>

namespace quoin::mesh {

struct Sniffed {
    Format format = Format::StlBinary;
    StlFit stl = StlFit::None; ///< for binary STL
};

/// Tells the format from the content. The extension decides only which reader explains what is wrong with a file that
/// is none of them. FileUnknownType, with a hint when the content is another well-known type.
/// @param extension  lower case with its point, may be empty
Result<Sniffed> sniffFormat(const SourceFile& file, const std::string& extension);

/// ".stl" of "Model.STL".
std::string lowerExtension(const std::filesystem::path& file);
/// True when the extension is that of another format; an unknown one says nothing.
bool extensionDisagrees(const std::string& extension, Format format);

} // namespace quoin::mesh
