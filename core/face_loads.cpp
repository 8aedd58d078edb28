// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/face_loads.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace quoin::core {

namespace {

/// Beyond this a figure says no more than "ample".
constexpr double ampleSafety = 100;

} // namespace

FaceLoads::FaceLoads(const std::vector<Piece>& pieces, const std::vector<Seam>& seams, const CutPlan& plan,
                     const std::string& material, const LoadCase& load)
    : m_pieces(pieces), m_seams(seams), m_plan(plan), m_material(material), m_load(load)
{
    const StrengthScene scene(m_pieces, m_seams, m_plan, m_noJoints, m_material);
    if (!seams.empty() && findStrength(material) != nullptr && checkLoadCase(scene, load))
        m_loaded = loadedFaces(scene, load, HangingGraph(scene, load));
}

std::optional<Carried> FaceLoads::carried(std::size_t seam, const std::vector<Joint>& joints) const
{
    if (!m_loaded)
        return {};
    const auto found = std::ranges::find_if(m_loaded->faces,
                                            [&](const JointCheck& f) { return std::ranges::count(f.seams, seam) > 0; });
    if (found == m_loaded->faces.end())
        return {};
    const StrengthScene scene(m_pieces, m_seams, m_plan, joints, m_material);
    const JointCheck face =
        checkedFace(scene, m_load, *m_loaded, static_cast<std::size_t>(found - m_loaded->faces.begin()));
    if (face.hanging.hanging == 0 || face.checks.empty() || !std::isfinite(face.safety))
        return {};
    const SectionForces& f = face.forces;
    return Carried{std::hypot(f.axialN, length(f.shearN)),
                   std::hypot(length(f.bendingNmm), f.torsionNmm) / 1000,
                   face.safety,
                   m_load.safetyLimit,
                   face.checks[face.weakest].name,
                   face.shared};
}

std::string carriedWords(const Carried& c)
{
    const std::string load = fmt::format("{:.{}f} N", c.forceN, c.forceN < 10 ? 1 : 0);
    const char* on = c.shared ? "of what hangs on it and other seams" : "that hang on it";
    constexpr double nothing = 0.01;
    if (c.safety < nothing)
        return fmt::format("carries next to nothing of the {} and {:.1f} N m {}, {:g} times are wanted ({}): nothing "
                           "that has room here does better",
                           load, c.momentNm, on, c.limit, c.weakest);
    if (!c.enough())
        return fmt::format(
            "carries the {} and {:.1f} N m {} at {:.2g} times only, {:g} is wanted ({}): nothing that has "
            "room here does better",
            load, c.momentNm, on, c.safety, c.limit, c.weakest);
    const std::string times = c.safety > ampleSafety ? fmt::format("more than {:g} times", ampleSafety)
                                                     : fmt::format("{:.1f} times", c.safety);
    return fmt::format("carries the {} {} at {}", load, on, times);
}

} // namespace quoin::core
