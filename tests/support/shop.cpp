// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/support/shop.h"

#include <string>

namespace quoin::test {

core::Moment moment(const char* text)
{
    return *core::momentFromText(text);
}

core::Machine machine(const char* name, double widthMm, double depthMm)
{
    core::Machine m;
    m.name = name;
    m.bed = {name, core::Bed::Shape::Rectangular, widthMm, depthMm, 400, 1};
    return m;
}

core::PlateJob slabs(const std::vector<Slab>& list)
{
    core::PlateJob job;
    for (const Slab& s : list) {
        core::PlatePieceInfo p;
        p.part = "slab";
        p.id = "slab/" + std::to_string(job.pieces.size() + 1);
        p.name = "slab " + std::to_string(job.pieces.size() + 1);
        p.figures = {"0.8 standard",
                     0,
                     45 * s.hours,
                     s.hours,
                     40 * s.hours,
                     50 * s.hours,
                     0.8 * s.hours,
                     1.2 * s.hours,
                     0.1,
                     2,
                     150};
        p.outline = job.outlines.size();
        p.heightMm = 50;
        job.pieces.push_back(p);
        job.outlines.push_back({{{0, 0}, {s.widthMm, 0}, {s.widthMm, s.depthMm}, {0, s.depthMm}}});
    }
    return job;
}

core::PlanRequest request(const char* deadline)
{
    core::PlanRequest r;
    r.machines = {machine("left one"), machine("right one")};
    r.start = moment("2026-11-30 08:00");
    if (deadline != nullptr)
        r.deadline = moment(deadline);
    r.simulations = 200;
    r.tries = 3000;
    r.plates.nestWork = 30'000;
    return r;
}

} // namespace quoin::test
