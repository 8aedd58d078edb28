// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/file_hash.h"

#include <fmt/format.h>
#include <openssl/evp.h>

#include <array>
#include <fstream>
#include <memory>
#include <vector>

namespace quoin::core {

Result<std::string> sha256OfFile(const std::filesystem::path& file)
{
    std::ifstream in(file, std::ios::binary);
    const std::unique_ptr<EVP_MD_CTX, decltype(&EVP_MD_CTX_free)> state(EVP_MD_CTX_new(), &EVP_MD_CTX_free);
    if (!in || !state || EVP_DigestInit_ex(state.get(), EVP_sha256(), nullptr) != 1)
        return Problem{Reason::FileUnreadable, "the file can't be read", file.string(), {}, {}};
    std::vector<char> block(1 << 16);
    while (in.read(block.data(), static_cast<std::streamsize>(block.size())) || in.gcount() > 0)
        EVP_DigestUpdate(state.get(), block.data(), static_cast<std::size_t>(in.gcount()));
    if (in.bad())
        return Problem{Reason::FileUnreadable, "the file can't be read to its end", file.string(), {}, {}};
    std::array<unsigned char, EVP_MAX_MD_SIZE> digest{};
    unsigned size = 0;
    EVP_DigestFinal_ex(state.get(), digest.data(), &size);
    std::string hex;
    for (unsigned i = 0; i < size; ++i)
        hex += fmt::format("{:02x}", digest[i]);
    return hex;
}

} // namespace quoin::core
