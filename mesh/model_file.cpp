// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/model_file.h"

#include "mesh/format_sniff.h"
#include "mesh/model_readers.h"
#include "mesh/source_file.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <new>
#include <stdexcept>

namespace quoin::mesh {

namespace {

/// Past this (a thousand kilometres) squares and cubes of sizes lose their meaning; no model is meant so.
constexpr double largestCoordinateMm = 1e9;
/// A model outside this range was probably exported in another unit.
constexpr double plausibleLeastMm = 1.0;
constexpr double plausibleMostMm = 5000.0;

Result<Model> readSniffed(const SourceFile& source, const Sniffed& sniffed, double millimetres, const Context& context)
{
    if (sniffed.format == Format::StlBinary)
        return readStlBinary(source, sniffed.stl, millimetres, context);
    const Result<Buffer<char>> all = source.readAll(context);
    if (!all)
        return all.problem();
    const std::string_view bytes(all->data(), all->size());
    switch (sniffed.format) {
    case Format::StlAscii:
        return readStlAscii(bytes, millimetres, context);
    case Format::Obj:
        return readObj(bytes, millimetres, context);
    case Format::Ply:
        return readPly(bytes, millimetres, context);
    case Format::Off:
        return readOff(bytes, millimetres, context);
    case Format::ThreeMf:
        return read3mf(bytes, context);
    case Format::StlBinary:
        break;
    }
    throw std::logic_error("a format without a reader");
}

/// Bounds of all points: readers leave none unused, and this is one walk instead of six look-ups a triangle.
Box3 boundsOfPoints(const Mesh& mesh)
{
    Box3 box;
    for (const Vec3& p : mesh.points)
        box.add(p);
    return box;
}

std::string lengthText(double lengthMm)
{
    char text[40];
    std::snprintf(text, sizeof text, "%.4g mm", lengthMm);
    return text;
}

/// The unit in which the model would be between a plausible least and most size, nearest in size to the one in use.
std::optional<Unit> likelierUnit(double extentMm, Unit unit)
{
    const double extent = extentMm / millimetresIn(unit);
    const std::array candidates = extentMm < plausibleLeastMm
                                      ? std::array{Unit::Millimetre, Unit::Centimetre, Unit::Inch, Unit::Metre}
                                      : std::array{Unit::Inch, Unit::Centimetre, Unit::Millimetre, Unit::Micron};
    for (const Unit candidate : candidates) {
        const double size = extent * millimetresIn(candidate);
        if (candidate != unit && size >= plausibleLeastMm && size <= plausibleMostMm)
            return candidate;
    }
    return std::nullopt;
}

void noteImplausibleSize(Model& model, const Box3& box)
{
    const Vec3 size = box.extents();
    const double largest = std::max({size.x, size.y, size.z});
    if (largest >= plausibleLeastMm && largest <= plausibleMostMm)
        return;
    std::string text = "the model is " + lengthText(largest) + " in size when its unit is " + unitName(model.unit);
    if (const std::optional<Unit> unit = likelierUnit(largest, model.unit))
        text += "; if that is wrong, its unit may be " + unitName(*unit);
    model.notes.push_back({Note::Severity::Warning, text, ""});
}

Result<Model> readOpened(const std::filesystem::path& file, const ReadOptions& options, const Context& context)
{
    const Result<SourceFile> source = SourceFile::open(file);
    if (!source)
        return source.problem();
    const std::string extension = lowerExtension(file);
    const Result<Sniffed> sniffed = sniffFormat(*source, extension);
    if (!sniffed)
        return sniffed.problem();
    const Unit unit = options.unit.value_or(Unit::Millimetre);
    Result<Model> model = readSniffed(*source, *sniffed, millimetresIn(unit), context);
    if (!model)
        return model;
    if (model->format != Format::ThreeMf)
        model->unit = unit;
    if (model->mesh.empty())
        return Problem{Reason::FileEmpty, "none of the file's faces has three different corners", "", "",
                       "Export the model again."};
    if (extensionDisagrees(extension, model->format))
        model->notes.push_back({Note::Severity::Info,
                                "the name says \"" + extension + "\", the content is " + formatName(model->format),
                                ""});
    const Box3 box = boundsOfPoints(model->mesh);
    const double reach = std::max({std::abs(box.min.x), std::abs(box.min.y), std::abs(box.min.z), std::abs(box.max.x),
                                   std::abs(box.max.y), std::abs(box.max.z)});
    if (reach > largestCoordinateMm)
        return Problem{Reason::FileMalformed, "a coordinate of " + lengthText(reach) + " is out of all proportion", "",
                       "", "Check the unit, and repair the model where it was made."};
    noteImplausibleSize(*model, box);
    context.report(1.0, "reading");
    return model;
}

} // namespace

std::string formatName(Format format)
{
    switch (format) {
    case Format::StlBinary:
        return "binary STL";
    case Format::StlAscii:
        return "ASCII STL";
    case Format::Obj:
        return "OBJ";
    case Format::Ply:
        return "PLY";
    case Format::Off:
        return "OFF";
    case Format::ThreeMf:
        return "3MF";
    }
    return "unknown";
}

Result<Model> readModel(const std::filesystem::path& file, const ReadOptions& options, const Context& context)
{
    Result<Model> model = Problem{Reason::FileTooLarge, "there is not enough memory for this file", "", "",
                                  "Reduce the model first, or close other programs."};
    try {
        model = readOpened(file, options, context);
    } catch (const std::bad_alloc&) {
        // said above
    } catch (const std::length_error&) {
        // said above
    }
    if (model)
        return model;
    Problem problem = model.problem();
    problem.file = file.string();
    return problem;
}

} // namespace quoin::mesh
