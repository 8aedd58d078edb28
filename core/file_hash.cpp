// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/file_hash.h"

#include <fmt/format.h>
#include <openssl/evp.h>

#include <array>
#include <fstream>
#include <stdexcept>
#include <vector>

namespace quoin::core {

struct Sha256::State {
    std::unique_ptr<EVP_MD_CTX, decltype(&EVP_MD_CTX_free)> digest{EVP_MD_CTX_new(), &EVP_MD_CTX_free};
};

Sha256::Sha256() : m_state(std::make_unique<State>())
{
    if (!m_state->digest || EVP_DigestInit_ex(m_state->digest.get(), EVP_sha256(), nullptr) != 1)
        throw std::runtime_error("the library for hashes refuses to make a SHA-256");
}

Sha256::~Sha256() = default;

void Sha256::add(std::string_view bytes)
{
    EVP_DigestUpdate(m_state->digest.get(), bytes.data(), bytes.size());
}

std::string Sha256::hex()
{
    std::array<unsigned char, EVP_MAX_MD_SIZE> digest{};
    unsigned size = 0;
    EVP_DigestFinal_ex(m_state->digest.get(), digest.data(), &size);
    std::string text;
    for (unsigned i = 0; i < size; ++i)
        text += fmt::format("{:02x}", digest[i]);
    return text;
}

Result<std::string> sha256OfFile(const std::filesystem::path& file)
{
    std::ifstream in(file, std::ios::binary);
    if (!in)
        return Problem{Reason::FileUnreadable, "the file can't be read", file.string(), {}, {}};
    Sha256 hash;
    std::vector<char> block(1 << 16);
    while (in.read(block.data(), static_cast<std::streamsize>(block.size())) || in.gcount() > 0)
        hash.add({block.data(), static_cast<std::size_t>(in.gcount())});
    if (in.bad())
        return Problem{Reason::FileUnreadable, "the file can't be read to its end", file.string(), {}, {}};
    return hash.hex();
}

} // namespace quoin::core
