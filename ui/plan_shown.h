// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/print_plan.h"
#include "ui/plan_chart.h"
#include "ui/plate_picture.h"

#include <optional>

namespace quoin::ui {

inline CivilMinute minuteOf(core::Moment moment)
{
    return moment.time_since_epoch().count();
}
inline core::Moment momentOf(CivilMinute minute)
{
    return core::Moment(core::Minutes(minute));
}

/// A plan as its chart; ids of bars are their places in PrintPlan::bars.
ChartData chartOf(const core::PrintPlan& plan, std::optional<CivilMinute> now);
/// What stands on the plate of a bar; ids of shapes are places in the job's pieces.
PlateShown plateOf(const core::PrintPlan& plan, std::size_t bar);
/// All about a print, in lines.
QString printWords(const core::PrintPlan& plan, std::size_t bar);
/// "neck 3, 2 dowels": what is on a plate, alike things counted.
QString plateContents(const core::PrintPlan& plan, const core::Plate& plate);
/// Places of the bars, in the order in which they begin.
std::vector<std::size_t> barsInTime(const core::PrintPlan& plan);

} // namespace quoin::ui
