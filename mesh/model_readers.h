// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/model_file.h"
#include "mesh/source_file.h"

#include <string_view>

/// One reader a format, behind readModel. They fill mesh, format, names, droppedTriangles and the notes of their
/// format; their problems carry no file name.
namespace quoin::mesh {

/// How the bytes of a file agree with binary STL.
enum class StlFit {
    Exact,      ///< the size is 84 + 50 n for the announced n
    WrongCount, ///< whole facets, but not as many as announced
    Trailing,   ///< all announced facets, then bytes that are no facets
    Truncated,  ///< ends inside a facet
    None        ///< no binary STL
};

/// Looks at the size, the announced count, and at some facets when the two disagree.
StlFit binaryStlFit(const SourceFile& file);

/// @param millimetres  in one unit of the file, for all readers
Result<Model> readStlBinary(const SourceFile& file, StlFit fit, double millimetres, const Context& context);
Result<Model> readStlAscii(std::string_view text, double millimetres, const Context& context);
Result<Model> readObj(std::string_view text, double millimetres, const Context& context);
Result<Model> readPly(std::string_view bytes, double millimetres, const Context& context);
Result<Model> readOff(std::string_view text, double millimetres, const Context& context);
/// Takes the unit from the file.
Result<Model> read3mf(std::string_view bytes, const Context& context);

} // namespace quoin::mesh
