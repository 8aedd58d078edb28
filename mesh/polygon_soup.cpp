// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/polygon_soup.h"

#include "mesh/face_polygon.h"
#include "mesh/source_file.h"

#include <cmath>
#include <limits>
#include <span>

namespace quoin::mesh {

namespace {

constexpr std::size_t facesBetweenLooks = 1 << 14;

/// Scales in place; false when a coordinate overflows.
bool scale(Buffer<Vec3>& points, double factor)
{
    if (factor == 1)
        return true;
    bool finite = true;
    for (Vec3& p : points) {
        p = factor * p;
        finite = finite && std::isfinite(p.x) && std::isfinite(p.y) && std::isfinite(p.z);
    }
    return finite;
}

bool allTriangles(const PolygonSoup& soup)
{
    return soup.corners.size() == 3 * soup.sizes.size();
}

/// Every face has three corners: the corners are the triangles.
Mesh trianglesOf(PolygonSoup& soup)
{
    Mesh mesh;
    mesh.triangles.resize(soup.sizes.size());
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i)
        mesh.triangles[i] = {soup.corners[3 * i], soup.corners[3 * i + 1], soup.corners[3 * i + 2]};
    mesh.points = std::move(soup.points);
    mesh.labels = std::move(soup.labels);
    return mesh;
}

struct Split {
    Mesh mesh;
    std::size_t vanished = 0; ///< faces with fewer than three distinct corners
    std::size_t crossed = 0;  ///< faces whose outline crosses itself
};

Result<Split> splitFaces(PolygonSoup& soup, const Context& context)
{
    Split split;
    split.mesh.triangles.reserve(soup.corners.size() - 2 * soup.sizes.size());
    const bool labelled = !soup.labels.empty();
    std::size_t at = 0;
    for (std::size_t face = 0; face < soup.sizes.size(); ++face) {
        if (face % facesBetweenLooks == 0 && context.cancelled())
            return readingCancelled();
        const std::span<const Index> corners(soup.corners.data() + at, soup.sizes[face]);
        at += soup.sizes[face];
        const FaceOutcome outcome = appendFace(corners, soup.points, split.mesh.triangles);
        split.vanished += outcome == FaceOutcome::Vanished;
        split.crossed += outcome == FaceOutcome::CrossesItself;
        if (labelled)
            split.mesh.labels.resize(split.mesh.triangles.size(), soup.labels[face]);
    }
    split.mesh.points = std::move(soup.points);
    return split;
}

} // namespace

Result<Model> modelFrom(PolygonSoup soup, Format format, double millimetres, const Context& context)
{
    if (soup.sizes.empty())
        return Problem{Reason::FileEmpty, "the file holds no faces", "", "",
                       "Export a surface, not points or lines only."};
    if (soup.corners.size() > std::numeric_limits<Index>::max())
        return Problem{Reason::FileTooLarge, "the file holds more faces than can be counted", "", "",
                       "Reduce the model first."};
    if (!scale(soup.points, millimetres))
        return Problem{Reason::NumberNotFinite, "a coordinate is too large for its unit", "", "", "Check the unit."};
    Model model;
    model.format = format;
    if (allTriangles(soup)) {
        model.mesh = trianglesOf(soup);
    } else {
        Result<Split> split = splitFaces(soup, context);
        if (!split)
            return split.problem();
        model.mesh = std::move(split->mesh);
        model.droppedTriangles = split->vanished;
        if (split->crossed > 0)
            model.notes.push_back({Note::Severity::Warning,
                                   std::to_string(split->crossed) +
                                       " faces have an outline that crosses itself; they were filled as a fan",
                                   ""});
    }
    const std::size_t before = model.mesh.triangles.size();
    model.mesh = welded(model.mesh);
    model.droppedTriangles += before - model.mesh.triangles.size();
    return model;
}

} // namespace quoin::mesh
