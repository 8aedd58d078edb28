// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/print_plan.h"
#include "mesh/result.h"

#include <filesystem>
#include <string>

class QPainter;
class QRectF;

namespace quoin::ui {

/// The plan on paper (A4): verdict and cautions, chart, spools, what would help, then each plate with its picture,
/// times and a box to tick off each piece. Needs no display; makes a QGuiApplication on the offscreen platform when
/// there is none. Written under a temporary name, then renamed. FileUnwritable.
Status writePlanPdf(const core::PrintPlan& plan, const std::string& name, const std::filesystem::path& file);

/// The machines' bars over the days, as core::chartSvg draws them, in a painter's own units; for the window, too.
void paintPlanChart(QPainter& painter, const QRectF& area, const core::PrintPlan& plan);
/// A plate from above, true in its proportions.
void paintPlate(QPainter& painter, const QRectF& area, const core::PrintPlan& plan, std::size_t plate);

} // namespace quoin::ui
