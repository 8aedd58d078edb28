// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/print_plan.h"

namespace quoin::test {

/// A moment that is known to be one.
core::Moment moment(const char* text);

/// A machine attended on weekdays from 8 to 18 o'clock, running at night and at weekends.
core::Machine machine(const char* name, double widthMm = 300, double depthMm = 300);

/// A job of rectangles: hours, width and depth of each; grams are 45 an hour, nine of ten within a fifth.
struct Slab {
    double hours, widthMm, depthMm;
};
core::PlateJob slabs(const std::vector<Slab>& list);

/// Two machines, Monday 2026-11-30 8 o'clock, a deadline, nothing on the shelf.
core::PlanRequest request(const char* deadline = "2026-12-14 12:00");

} // namespace quoin::test
