// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <utility>
#include <vector>

namespace quoin::test {

/// A ZIP archive of the given (name, content) parts, stored without packing (PKWARE APPNOTE 6.3).
std::string zipOf(const std::vector<std::pair<std::string, std::string>>& parts);

/// The three parts of a 3MF package around a model part.
std::string threeMfOf(const std::string& modelXml);

} // namespace quoin::test
