// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/result.h"

#include <cstdint>
#include <string_view>

namespace quoin::mesh {

/// Bytes that a ZIP archive says it unpacks to, by its central directory (PKWARE APPNOTE 6.3, sections 4.3.12 and
/// 4.3.16): asked before a library is let loose on it. FileTruncated when the directory, which stands at the end, is
/// missing; FileMalformed when it is broken.
Result<std::uint64_t> unpackedBytes(std::string_view zip);

} // namespace quoin::mesh
