// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/context.h"
#include "mesh/mesh.h"
#include "mesh/result.h"

#include <cstdint>
#include <filesystem>
#include <map>
#include <memory>
#include <mutex>
#include <string>

namespace quoin::core {

/// Meshes kept as files whose names are the SHA-256 of their content (PLY, exact): a mesh that is there already is
/// not written again, and a file that was changed is noticed. Remembers what it has hashed, so that saving a design
/// again touches no mesh. Safe to use from several threads.
class MeshKeeper {
public:
    /// SHA-256 of a mesh's PLY bytes, worked out once for each mesh. @param mesh  not null
    std::string hashOf(const mesh::MeshPtr& mesh);

    /// Makes sure that the mesh lies in the folder (which is made), whole. A damaged file of its name is written anew.
    /// FileUnwritable; BadArgument for a mesh without triangles; NumberNotFinite. @return the file's name, without
    /// folder
    Result<std::string> keep(const mesh::MeshPtr& mesh, const std::filesystem::path& folder);

    /// Reads a kept mesh and holds it against its hash. FileMissing, FileUnreadable, FileMalformed, Cancelled.
    Result<mesh::MeshPtr> load(const std::filesystem::path& file, const std::string& sha256,
                               const Context& context = {});

private:
    struct Known {
        std::weak_ptr<const mesh::Mesh> mesh;
        std::string sha256;
    };
    /// What tells that a file is still the one that was looked at.
    struct Stamp {
        std::uintmax_t bytes = 0;
        std::filesystem::file_time_type written;
        friend bool operator==(const Stamp&, const Stamp&) = default;
    };
    static Stamp stampOf(const std::filesystem::path& file);
    void remember(const mesh::MeshPtr& mesh, const std::string& sha256);
    bool isGood(const std::filesystem::path& file, const std::string& sha256);

    std::mutex m_mutex; ///< of both maps
    std::map<const mesh::Mesh*, Known> m_hashes;
    std::map<std::string, Stamp> m_goodFiles;
};

/// The name of a kept mesh: 64 hexadecimal digits and ".ply".
std::string keptName(const std::string& sha256);
bool isSha256(const std::string& text);
bool isKeptName(const std::string& name);

} // namespace quoin::core
