// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/mesh_folder.h"

#include "core/file_hash.h"
#include "mesh/exact_ply.h"
#include "mesh/source_file.h"
#include "mesh/write_model.h"

#include <algorithm>

namespace quoin::core {

namespace fs = std::filesystem;

namespace {

constexpr std::size_t hexDigits = 64;
constexpr std::string_view suffix = ".ply";

/// A problem of a kept mesh, with what helps.
Problem ofFile(Problem problem, const fs::path& file)
{
    problem.file = file.string();
    if (problem.reason != Reason::Cancelled)
        problem.remedy = "Put the folder of meshes back beside the design as it was saved, or choose the model again.";
    return problem;
}

} // namespace

std::string keptName(const std::string& sha256)
{
    return sha256 + std::string(suffix);
}

bool isSha256(const std::string& text)
{
    return text.size() == hexDigits && text.find_first_not_of("0123456789abcdef") == std::string::npos;
}

bool isKeptName(const std::string& name)
{
    return name.ends_with(suffix) && isSha256(name.substr(0, name.size() - suffix.size()));
}

MeshKeeper::Stamp MeshKeeper::stampOf(const fs::path& file)
{
    std::error_code error;
    Stamp stamp;
    stamp.bytes = fs::file_size(file, error);
    stamp.written = fs::last_write_time(file, error);
    return stamp;
}

void MeshKeeper::remember(const mesh::MeshPtr& mesh, const std::string& sha256)
{
    const std::lock_guard lock(m_mutex);
    std::erase_if(m_hashes, [](const auto& entry) { return entry.second.mesh.expired(); });
    m_hashes[mesh.get()] = {mesh, sha256};
}

std::string MeshKeeper::hashOf(const mesh::MeshPtr& mesh)
{
    {
        const std::lock_guard lock(m_mutex);
        const auto known = m_hashes.find(mesh.get());
        // Another mesh may have come to lie where a forgotten one was.
        if (known != m_hashes.end() && known->second.mesh.lock() == mesh)
            return known->second.sha256;
    }
    Sha256 hash;
    mesh::plyBytes(*mesh, [&hash](std::string_view block) { hash.add(block); });
    std::string hex = hash.hex();
    remember(mesh, hex);
    return hex;
}

bool MeshKeeper::isGood(const fs::path& file, const std::string& sha256)
{
    std::error_code error;
    if (!fs::is_regular_file(file, error))
        return false;
    const Stamp now = stampOf(file);
    {
        const std::lock_guard lock(m_mutex);
        const auto known = m_goodFiles.find(file.string());
        if (known != m_goodFiles.end() && known->second == now)
            return true;
    }
    const auto found = sha256OfFile(file);
    if (!found || *found != sha256)
        return false;
    const std::lock_guard lock(m_mutex);
    m_goodFiles[file.string()] = now;
    return true;
}

Result<std::string> MeshKeeper::keep(const mesh::MeshPtr& mesh, const fs::path& folder)
{
    const std::string sha256 = hashOf(mesh);
    const fs::path file = fs::absolute(folder) / keptName(sha256);
    if (isGood(file, sha256))
        return keptName(sha256);
    std::error_code error;
    fs::create_directories(folder, error);
    if (error)
        return Problem{Reason::FileUnwritable,
                       "the folder for the meshes can't be made: " + error.message(),
                       folder.string(),
                       {},
                       "Check the free space and the permissions of the folder above."};
    if (const Status s = mesh::writePly(file, *mesh); !s)
        return s.problem();
    const std::lock_guard lock(m_mutex);
    m_goodFiles[file.string()] = stampOf(file);
    return keptName(sha256);
}

Result<mesh::MeshPtr> MeshKeeper::load(const fs::path& file, const std::string& sha256, const Context& context)
{
    const auto source = mesh::SourceFile::open(file);
    if (!source) {
        Problem problem = source.problem();
        if (problem.reason == Reason::FileMissing)
            problem.what = "this mesh of the design is missing";
        return ofFile(problem, file);
    }
    const Stamp stamp = stampOf(fs::absolute(file));
    const auto bytes = source->readAll(context);
    if (!bytes)
        return ofFile(bytes.problem(), file);
    const std::string_view content(bytes->data(), bytes->size());
    Sha256 hash;
    hash.add(content);
    if (hash.hex() != sha256)
        return ofFile({Reason::FileMalformed,
                       "this mesh is not the one that was saved with the design: its content has changed",
                       {},
                       {},
                       {}},
                      file);
    auto mesh = mesh::meshFromPlyBytes(content);
    if (!mesh)
        return ofFile(mesh.problem(), file);
    auto loaded = std::make_shared<const mesh::Mesh>(std::move(*mesh));
    remember(loaded, sha256);
    const std::lock_guard lock(m_mutex);
    m_goodFiles[fs::absolute(file).string()] = stamp;
    return mesh::MeshPtr(loaded);
}

} // namespace quoin::core
