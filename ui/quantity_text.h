// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/model_file.h"
#include "mesh/vec3.h"

#include <QString>

namespace quoin::ui {

/// Symbol as it is written behind a number: "mm", "cm", "m", "in" (ISO 80000-3), "ft", "µm".
QString unitSymbol(mesh::Unit unit);

/// "350.0 mm", "35.00 cm", "0.350 m", "13.78 in": a length given in mm, rounded to about a tenth of a millimetre; never
/// fewer digits than three when that hides a small length.
QString lengthText(double lengthMm, mesh::Unit unit = mesh::Unit::Millimetre);
/// A length for a field that is edited: as lengthText, with as many more digits as keep a thousandth of a mm.
QString exactLengthText(double lengthMm, mesh::Unit unit);
/// "1200 × 800 × 350.5 mm"
QString extentsText(mesh::Vec3 extentsMm, mesh::Unit unit = mesh::Unit::Millimetre);
/// "12.5 cm²", or mm² below 1 cm²
QString areaText(double areaMm2);
/// "1234 cm³", or mm³ below 1 cm³
QString volumeText(double volumeMm3);
/// "850 g", "12.4 kg"
QString massText(double grams);
/// At most `digits` places after the point, trailing zeros dropped down to `least`; never "-0".
QString numberText(double value, int digits, int least = 0);

} // namespace quoin::ui
