// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/write_model.h"

#include "mesh/atomic_file.h"
#include "mesh/exact_ply.h"
#include "mesh/output_file.h"
#include "mesh/write_check.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <cstring>
#include <limits>

namespace quoin::mesh {

namespace {

static_assert(std::endian::native == std::endian::little, "the writers copy numbers as they lie in memory");

constexpr std::size_t headerBytes = 80;
constexpr std::size_t facetBytes = 50;

template <class T>
void put(char*& at, T value)
{
    std::memcpy(at, &value, sizeof value);
    at += sizeof value;
}

void putFloats(char*& at, Vec3 v)
{
    put(at, static_cast<float>(v.x));
    put(at, static_cast<float>(v.y));
    put(at, static_cast<float>(v.z));
}

/// The 80 bytes. Some readers take any file that begins with "solid" for text.
std::array<char, headerBytes> stlHeader(std::string text)
{
    const std::string_view word = "solid";
    const auto sameLetter = [](char a, char b) { return (a | 0x20) == b; };
    const std::size_t start = std::min(text.find_first_not_of(" \t\r\n"), text.size());
    if (text.size() - start >= word.size() &&
        std::equal(word.begin(), word.end(), text.begin() + start, [&](char w, char c) { return sameLetter(c, w); }))
        text.insert(0, "STL: ");
    std::array<char, headerBytes> header{};
    std::copy_n(text.begin(), std::min(text.size(), header.size()), header.begin());
    return header;
}

} // namespace

Status checkWritable(const std::filesystem::path& file, const Mesh& mesh, double largest)
{
    if (mesh.empty())
        return Problem{Reason::BadArgument, "there are no triangles to write", file.string(), "", ""};
    if (mesh.triangles.size() > std::numeric_limits<std::uint32_t>::max())
        return Problem{Reason::BadArgument, "there are more triangles than the format can count", file.string(), "",
                       ""};
    for (const Triangle& t : mesh.triangles)
        for (const Index v : t) {
            const Vec3 p = mesh.points[v];
            // Written so that NaN fails too.
            if (!(std::abs(p.x) <= largest && std::abs(p.y) <= largest && std::abs(p.z) <= largest))
                return Problem{Reason::NumberNotFinite, "a coordinate is not a number that the format can hold",
                               file.string(), "point " + std::to_string(v), "Check the scale."};
        }
    return Done{};
}

Status writeStl(const std::filesystem::path& file, const Mesh& mesh, const std::string& header)
{
    if (Status checked = checkWritable(file, mesh, std::numeric_limits<float>::max()); !checked)
        return checked;
    return writeAtomically(file, [&](const std::filesystem::path& temporary) {
        OutputFile out(temporary);
        const std::array<char, headerBytes> head = stlHeader(header);
        out.append({head.data(), head.size()});
        std::array<char, facetBytes> facet{};
        char* at = facet.data();
        put(at, static_cast<std::uint32_t>(mesh.triangles.size()));
        out.append({facet.data(), sizeof(std::uint32_t)});
        for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
            const Vec3 a = mesh.corner(i, 0), b = mesh.corner(i, 1), c = mesh.corner(i, 2);
            at = facet.data();
            putFloats(at, normalized(cross(b - a, c - a)));
            putFloats(at, a);
            putFloats(at, b);
            putFloats(at, c);
            put(at, std::uint16_t{0});
            out.append({facet.data(), facet.size()});
        }
        return out.finish();
    });
}

Status writePly(const std::filesystem::path& file, const Mesh& mesh)
{
    if (Status checked = checkWritable(file, mesh, std::numeric_limits<double>::max()); !checked)
        return checked;
    return writeAtomically(file, [&](const std::filesystem::path& temporary) {
        OutputFile out(temporary);
        plyBytes(mesh, [&out](std::string_view block) { out.append(block); });
        return out.finish();
    });
}

} // namespace quoin::mesh
