// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/result.h"

#include <filesystem>
#include <memory>
#include <string>
#include <string_view>

namespace quoin::core {

/// SHA-256 (FIPS 180-4) of bytes that come a block at a time.
class Sha256 {
public:
    Sha256();
    ~Sha256();
    Sha256(const Sha256&) = delete;
    Sha256& operator=(const Sha256&) = delete;

    void add(std::string_view bytes);
    /// In lower-case hexadecimal; nothing can be added after it.
    std::string hex();

private:
    struct State;
    std::unique_ptr<State> m_state;
};

/// SHA-256 of a file's bytes, in lower-case hexadecimal. FileUnreadable on failure.
Result<std::string> sha256OfFile(const std::filesystem::path& file);

} // namespace quoin::core
