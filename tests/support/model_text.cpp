// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/support/model_text.h"

#include "tests/support/scratch.h"

#include <algorithm>
#include <fstream>
#include <iterator>
#include <stdexcept>

namespace quoin::test {

void putContent(const std::filesystem::path& file, const std::string& bytes)
{
    // A new file rather than an old one emptied: some file systems put those on the disk at once, which takes long.
    std::error_code ignored;
    std::filesystem::remove(file, ignored);
    std::ofstream out(file, std::ios::binary);
    out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    if (!out.flush())
        throw std::runtime_error("can't write " + file.string());
}

std::string contentOf(const std::filesystem::path& file)
{
    std::ifstream in(file, std::ios::binary);
    if (!in)
        throw std::runtime_error("can't read " + file.string());
    return {std::istreambuf_iterator<char>(in), {}};
}

Result<mesh::Model> readBytes(const std::string& bytes, const std::string& extension, const mesh::ReadOptions& options)
{
    const ScratchFolder scratch;
    const std::filesystem::path file = scratch / ("model" + extension);
    putContent(file, bytes);
    return mesh::readModel(file, options);
}

bool hasNote(const mesh::Model& model, const std::string& words)
{
    return std::any_of(model.notes.begin(), model.notes.end(),
                       [&](const Note& note) { return note.text.find(words) != std::string::npos; });
}

} // namespace quoin::test
