// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/result.h"

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace quoin::mesh {

enum class PlyEncoding { Ascii, LittleEndian, BigEndian };
enum class PlyType { Int8, UInt8, Int16, UInt16, Int32, UInt32, Float32, Float64 };

std::size_t plyBytes(PlyType type);
inline bool isWhole(PlyType type)
{
    return type != PlyType::Float32 && type != PlyType::Float64;
}

struct PlyProperty {
    std::string name;
    PlyType type = PlyType::Float32; ///< of the value, or of each list entry
    bool isList = false;
    PlyType countType = PlyType::UInt8; ///< of the length of a list
};

struct PlyElement {
    std::string name;
    std::uint64_t count = 0;
    std::vector<PlyProperty> properties;

    /// Where the property stands; -1 when there is none of this name.
    int find(std::string_view property) const;
};

struct PlyHeader {
    PlyEncoding encoding = PlyEncoding::Ascii;
    std::vector<PlyElement> elements;
    std::size_t bodyOffset = 0; ///< byte after the header's last line end
    std::size_t bodyLine = 0;   ///< line number of that byte
};

/// Reads the lines from "ply" to "end_header" (Turk 1994, "The PLY polygon file format"), with the type names of both
/// conventions (uchar, uint8). FileMalformed with the line, FileTruncated when end_header never comes.
Result<PlyHeader> readPlyHeader(std::string_view bytes);

} // namespace quoin::mesh
