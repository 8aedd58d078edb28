// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/exact_ply.h"

#include <bit>
#include <charconv>
#include <cmath>
#include <cstring>
#include <string>

namespace quoin::mesh {

namespace {

static_assert(std::endian::native == std::endian::little, "numbers are copied as they lie in memory");

constexpr std::string_view beforePoints =
    "ply\nformat binary_little_endian 1.0\ncomment quoin, unit mm\nelement vertex ";
constexpr std::string_view beforeFaces = "\nproperty double x\nproperty double y\nproperty double z\nelement face ";
constexpr std::string_view afterFaces = "\nproperty list uchar uint vertex_indices\n";
constexpr std::string_view labelProperty = "property int label\n";
constexpr std::string_view headerEnd = "end_header\n";

constexpr std::size_t pointBytes = 3 * sizeof(double);
constexpr std::size_t faceBytes = 1 + 3 * sizeof(Index);
constexpr std::size_t blockBytes = 1 << 16;

/// Records of one size, handed on in blocks.
class Blocks {
public:
    explicit Blocks(const std::function<void(std::string_view)>& take) : m_take(take) { m_block.reserve(blockBytes); }
    template <class T>
    void put(const T& value)
    {
        m_block.append(reinterpret_cast<const char*>(&value), sizeof value);
    }
    void endOfRecord()
    {
        if (m_block.size() + pointBytes + faceBytes > blockBytes)
            flush();
    }
    void flush()
    {
        if (!m_block.empty())
            m_take(m_block);
        m_block.clear();
    }

private:
    const std::function<void(std::string_view)>& m_take;
    std::string m_block;
};

Problem notOurs(const std::string& what)
{
    return {Reason::FileMalformed, what, "", "header", ""};
}

/// Takes the words off the front, or leaves everything as it is.
bool took(std::string_view& rest, std::string_view words)
{
    if (!rest.starts_with(words))
        return false;
    rest.remove_prefix(words.size());
    return true;
}

bool tookCount(std::string_view& rest, std::size_t& count)
{
    const auto [end, error] = std::from_chars(rest.data(), rest.data() + rest.size(), count);
    if (error != std::errc{} || count > std::uint32_t(-1))
        return false;
    rest.remove_prefix(static_cast<std::size_t>(end - rest.data()));
    return true;
}

template <class T>
T valueAt(const char* at)
{
    T value;
    std::memcpy(&value, at, sizeof value);
    return value;
}

Status readPoints(const char* from, Mesh& mesh)
{
    std::memcpy(static_cast<void*>(mesh.points.data()), from, mesh.points.size() * pointBytes);
    for (std::size_t i = 0; i < mesh.points.size(); ++i) {
        const Vec3& p = mesh.points[i];
        if (!std::isfinite(p.x) || !std::isfinite(p.y) || !std::isfinite(p.z))
            return Problem{Reason::NumberNotFinite, "a coordinate is not a number (NaN or infinite)", "",
                           "point " + std::to_string(i), ""};
    }
    return Done{};
}

Status readFaces(const char* at, Mesh& mesh)
{
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
        const auto corners = static_cast<std::uint8_t>(*at++);
        for (Index& v : mesh.triangles[i]) {
            v = valueAt<Index>(at);
            at += sizeof(Index);
            if (corners != 3 || v >= mesh.points.size())
                return Problem{Reason::FileMalformed, "a face is not a triangle of the file's points", "",
                               "face " + std::to_string(i), ""};
        }
        if (!mesh.labels.empty()) {
            mesh.labels[i] = valueAt<Label>(at);
            at += sizeof(Label);
        }
    }
    return Done{};
}

} // namespace

void plyBytes(const Mesh& mesh, const std::function<void(std::string_view)>& take)
{
    const bool labelled = !mesh.labels.empty();
    std::string header(beforePoints);
    header += std::to_string(mesh.points.size());
    header += beforeFaces;
    header += std::to_string(mesh.triangles.size());
    header += afterFaces;
    header += labelled ? labelProperty : "";
    header += headerEnd;
    take(header);
    Blocks blocks(take);
    for (const Vec3& p : mesh.points) {
        blocks.put(p);
        blocks.endOfRecord();
    }
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
        blocks.put(std::uint8_t{3});
        blocks.put(mesh.triangles[i]);
        if (labelled)
            blocks.put(mesh.labels[i]);
        blocks.endOfRecord();
    }
    blocks.flush();
}

Result<Mesh> meshFromPlyBytes(std::string_view bytes)
{
    std::size_t points = 0, faces = 0;
    std::string_view rest = bytes;
    if (!took(rest, beforePoints) || !tookCount(rest, points) || !took(rest, beforeFaces) || !tookCount(rest, faces) ||
        !took(rest, afterFaces))
        return notOurs("this is not a mesh that was kept with a design");
    const bool labelled = took(rest, labelProperty);
    if (!took(rest, headerEnd))
        return notOurs("the header has no end");
    const std::size_t wanted = points * pointBytes + faces * (faceBytes + (labelled ? sizeof(Label) : 0));
    if (rest.size() != wanted)
        return Problem{rest.size() < wanted ? Reason::FileTruncated : Reason::FileMalformed,
                       rest.size() < wanted ? "the file ends before its last face" : "something follows the last face",
                       "", "byte " + std::to_string(bytes.size()), ""};
    Mesh mesh;
    mesh.points.resize(points);
    mesh.triangles.resize(faces);
    mesh.labels.resize(labelled ? faces : 0);
    if (const Status s = readPoints(rest.data(), mesh); !s)
        return s.problem();
    if (const Status s = readFaces(rest.data() + points * pointBytes, mesh); !s)
        return s.problem();
    return mesh;
}

} // namespace quoin::mesh
