// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/context.h"
#include "mesh/mesh.h"
#include "mesh/result.h"

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace quoin::mesh {

enum class Unit { Micron, Millimetre, Centimetre, Inch, Foot, Metre };

/// Millimetres in one of the unit (inch: 25.4 exactly).
double millimetresIn(Unit unit);
/// "mm", "cm", "m", "inch", "foot", "micron" and their usual other spellings; nullopt-like: BadArgument otherwise.
Result<Unit> unitFromName(std::string_view name);
std::string unitName(Unit unit);

enum class Format { StlBinary, StlAscii, Obj, Ply, Off, ThreeMf };
std::string formatName(Format format);

/// What a model file held: one mesh (all bodies, transforms applied), welded by exact coordinates, in millimetres.
struct Model {
    Mesh mesh;
    Format format = Format::StlBinary;
    Unit unit = Unit::Millimetre;     ///< the file's own (3MF), the caller's, or millimetres
    std::vector<std::string> names;   ///< object names when the format has them
    std::size_t droppedTriangles = 0; ///< facets with two equal corners, left out
    std::vector<Note> notes;          ///< hints: wrong extension, wrong facet count, implausible size for the unit...
};

struct ReadOptions {
    /// Unit of a file that says none (all but 3MF). Default: millimetres.
    std::optional<Unit> unit;
};

/// Reads STL (binary or ASCII), OBJ, PLY (ASCII, both endians), OFF, 3MF, told apart by content; the name's extension
/// only draws a note when it disagrees. Never throws on bad input; problems name the file, the place and the remedy.
/// Reads regular files only; memory is bounded by the file's size, whatever count the file announces.
Result<Model> readModel(const std::filesystem::path& file, const ReadOptions& options = {},
                        const Context& context = {});

} // namespace quoin::mesh
