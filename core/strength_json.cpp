// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/strength_json.h"

#include <cmath>

namespace quoin::core {

using nlohmann::json;

namespace {

json safetyJson(double safety)
{
    return std::isfinite(safety) ? json(safety) : json(nullptr);
}

json checkJson(const StrengthCheck& c, double limit)
{
    return {{"name", c.name},
            {"demand", c.demand},
            {"capacity", c.capacity},
            {"unit", c.unit},
            {"safety", safetyJson(c.safety)},
            {"low", c.safety < limit},
            {"formula", c.formula},
            {"source", c.source}};
}

json faceJson(const JointCheck& j, const LoadCase& load)
{
    json checks = json::array();
    for (const StrengthCheck& c : j.checks)
        checks.push_back(checkJson(c, load.safetyLimit));
    json out = {{"marks", j.marks},
                {"seams", j.seams},
                {"cut", j.cut},
                {"held_piece", j.hanging.held},
                {"hanging_piece", j.hanging.hanging == 0 ? json(nullptr) : json(j.hanging.hanging)},
                {"pieces", j.hanging.pieces},
                {"in_loop", j.hanging.inLoop},
                {"shared", j.shared},
                {"mass_kg", j.hanging.massKg},
                {"area_mm2", j.section.areaMm2},
                {"centroid_mm", {j.section.centroid.x, j.section.centroid.y}},
                {"axial_n", j.forces.axialN},
                {"shear_n", {j.forces.shearN.x, j.forces.shearN.y}},
                {"bending_nmm", {j.forces.bendingNmm.x, j.forces.bendingNmm.y}},
                {"torsion_nmm", j.forces.torsionNmm},
                {"bending_of_whole", j.bendingOfWhole},
                {"safety", safetyJson(j.safety)},
                {"low", j.low},
                {"words", j.words},
                {"checks", checks}};
    if (!j.checks.empty() && std::isfinite(j.safety))
        out["weakest"] = j.checks[j.weakest].name;
    return out;
}

} // namespace

json toJson(const StrengthReport& report, const LoadCase& load)
{
    json faces = json::array(), notes = json::array();
    for (const JointCheck& j : report.joints)
        faces.push_back(faceJson(j, load));
    for (const Note& n : report.notes)
        notes.push_back({{"severity", n.severity == Note::Severity::Info ? "info" : "warning"}, {"text", n.text}});
    const JointCheck* weakest = report.weakest();
    return {{"caution", strengthCaution()},
            {"load", toJson(load)},
            {"fixed_pieces", report.fixedPieces},
            {"safety", weakest != nullptr ? safetyJson(weakest->safety) : json(nullptr)},
            {"low", weakest != nullptr && weakest->low},
            {"faces", faces},
            {"notes", notes}};
}

json toJson(const StrengthEstimate& estimate)
{
    json out =
        estimate.report
            ? toJson(*estimate.report, estimate.load)
            : json{{"caution", strengthCaution()}, {"load", toJson(estimate.load)}, {"not_estimated", estimate.whyNot}};
    out["kind"] = "quoin strength";
    return out;
}

} // namespace quoin::core
