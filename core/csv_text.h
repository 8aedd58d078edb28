// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/result.h"

#include <string>
#include <string_view>
#include <vector>

namespace quoin::core {

/// A field of a CSV file, in quotes where it needs them (RFC 4180).
std::string csvField(std::string_view text);

/// A line of a CSV file.
struct CsvLine {
    std::size_t number = 0; ///< in the file, from 1: where the record begins
    std::vector<std::string> fields;
};

/// Records of a CSV file (RFC 4180; single line feeds and a mark of byte order are taken too, and semicolons where the
/// first line has them and no comma). Empty lines are left out. FileMalformed for a quote that doesn't end.
Result<std::vector<CsvLine>> csvLines(std::string_view text);

} // namespace quoin::core
