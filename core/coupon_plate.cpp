// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/coupon_plate.h"

#include "core/stroke_font.h"
#include "mesh/primitives.h"
#include "mesh/region.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

namespace quoin::core {

namespace {

constexpr double wallMm = 2.4;  ///< between pockets, and to the rim (three lines of 0.8 mm)
constexpr double floorMm = 1.6; ///< under a pocket: eight layers of 0.2 mm

// Numbers: as high as the small marks of pieces.
constexpr double numberMm = 5, strokeMm = 0.9, numberDepthMm = 0.6, arcErrorMm = 0.03;

PlateLayout layoutOf(const PlateOrder& order, int lines)
{
    PlateLayout l;
    l.steps = order.steps;
    l.columns = (order.steps + lines - 1) / lines;
    l.lines = (order.steps + l.columns - 1) / l.columns;
    const double numberWidthMm = numberMm * strokeText(fmt::format("{}", order.steps)).width + strokeMm;
    l.pitchMm = wallMm + std::accumulate(order.mouthMm.begin(), order.mouthMm.end(), numberWidthMm,
                                         [](double a, double b) { return std::max(a, b); });
    for (const double mouth : order.mouthMm)
        l.rowMm.push_back(mouth + wallMm);
    l.numberRowMm = (1 - strokeBarY) * numberMm + strokeMm + wallMm;
    l.plateMm = {l.columns * l.pitchMm + wallMm, l.lines * l.lineMm() + wallMm, order.depthMm + floorMm};
    return l;
}

bool fits(mesh::Vec3 plate, const Bed& bed, double marginMm)
{
    const double width = bed.widthMm - 2 * marginMm, depth = bed.depthMm - 2 * marginMm;
    const bool flat =
        bed.shape == Bed::Shape::Round ? std::hypot(plate.x, plate.y) <= width : plate.x <= width && plate.y <= depth;
    return flat && plate.z <= bed.heightMm - marginMm;
}

} // namespace

double PlateLayout::lineMm() const
{
    return std::accumulate(rowMm.begin(), rowMm.end(), numberRowMm);
}

mesh::Vec2 PlateLayout::numberAt(int step) const
{
    const int column = step % columns, line = step / columns;
    return {-plateMm.x / 2 + wallMm / 2 + (column + 0.5) * pitchMm,
            plateMm.y / 2 - wallMm / 2 - line * lineMm() - numberRowMm / 2};
}

mesh::Vec2 PlateLayout::pocketAt(int step, std::size_t pair) const
{
    const auto row = rowMm.begin() + static_cast<std::ptrdiff_t>(pair);
    return numberAt(step) - mesh::Vec2{0, std::accumulate(rowMm.begin(), row, numberRowMm / 2) + *row / 2};
}

Result<PlateLayout> layoutOnBed(const PlateOrder& order, const Bed& bed, double marginMm)
{
    PlateLayout squarest = layoutOf(order, 1);
    for (int lines = 1; lines <= order.steps; ++lines) {
        PlateLayout l = layoutOf(order, lines);
        if (fits(l.plateMm, bed, marginMm))
            return l;
        if (std::max(l.plateMm.x, l.plateMm.y) < std::max(squarest.plateMm.x, squarest.plateMm.y))
            squarest = l;
    }
    return Problem{
        Reason::DoesNotFit,
        fmt::format("{} steps need a plate such as {:.1f} x {:.1f} x {:.1f} mm, and the bed {} with a margin "
                    "of {:g} mm has no room for it",
                    order.steps, squarest.plateMm.x, squarest.plateMm.y, squarest.plateMm.z, sizeWords(bed), marginMm),
        {},
        {},
        "Take fewer steps or smaller gauges, or a larger bed."};
}

mesh::Mesh barePlate(const PlateLayout& layout)
{
    const mesh::Vec3 size = layout.plateMm;
    mesh::Mesh m = mesh::box({-size.x / 2, -size.y / 2, 0}, {size.x / 2, size.y / 2, size.z});
    for (std::size_t t = 0; t < m.triangles.size(); ++t) {
        const bool top = m.corner(t, 0).z == size.z && m.corner(t, 1).z == size.z && m.corner(t, 2).z == size.z;
        m.labels.push_back(top ? plateTopLabel : mesh::skinLabel);
    }
    return m;
}

std::vector<mesh::Recess> numberRecesses(const PlateLayout& layout)
{
    const mesh::PlaneFrame frame = mesh::frameOf(layout.top());
    std::vector<mesh::Recess> recesses;
    for (int step = 0; step < layout.steps; ++step) {
        const StrokeText text = strokeText(fmt::format("{}", step + 1));
        std::vector<std::vector<mesh::Vec2>> paths = text.paths;
        for (auto& path : paths)
            for (mesh::Vec2& p : path) {
                const mesh::Vec2 at =
                    layout.numberAt(step) + numberMm * mesh::Vec2{p.x - text.width / 2, p.y - 0.5 * (1 + strokeBarY)};
                p = frame.flat({at.x, at.y, layout.plateMm.z});
            }
        for (const mesh::Region& figure : mesh::islands(mesh::strokes(paths, strokeMm, arcErrorMm)))
            recesses.push_back({{{0, figure}, {numberDepthMm, figure}}});
    }
    return recesses;
}

} // namespace quoin::core
