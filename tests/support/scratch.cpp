// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/support/scratch.h"

#include <cstdlib>
#include <stdexcept>

namespace quoin::test {

ScratchFolder::ScratchFolder()
{
    std::string pattern = (std::filesystem::temp_directory_path() / "quoin-test-XXXXXX").string();
    if (mkdtemp(pattern.data()) == nullptr)
        throw std::runtime_error("can't make a scratch folder");
    m_path = pattern;
}

ScratchFolder::~ScratchFolder()
{
    std::error_code ignored;
    std::filesystem::remove_all(m_path, ignored);
}

std::filesystem::path reference(const std::string& relative)
{
    const std::filesystem::path path = std::filesystem::path(QUOIN_NPM_MODULES) / relative;
    if (!std::filesystem::exists(path))
        throw std::runtime_error("reference " + path.string() + " is missing: run tests/run, which installs it");
    return path;
}

} // namespace quoin::test
