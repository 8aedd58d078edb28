// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/face_loads.h"

#include <fmt/format.h>

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
        m_graph.emplace(scene, load);
}

std::optional<Carried> FaceLoads::carried(std::size_t seam, const std::vector<Joint>& joints) const
{
    if (!m_graph)
        return {};
    const StrengthScene scene(m_pieces, m_seams, m_plan, joints, m_material);
    const JointCheck face = checkedFace(scene, seam, m_load, *m_graph);
    if (face.hanging.hanging == 0 || face.checks.empty() || !std::isfinite(face.safety))
        return {};
    const SectionForces& f = face.forces;
    return Carried{std::hypot(f.axialN, length(f.shearN)),
                   std::hypot(length(f.bendingNmm), f.torsionNmm) / 1000,
                   face.safety,
                   m_load.safetyLimit,
                   face.checks[face.weakest].name,
                   face.hanging.inLoop};
}

std::string carriedWords(const Carried& c)
{
    const std::string load = fmt::format("{:.{}f} N", c.forceN, c.forceN < 10 ? 1 : 0);
    const char* alone = c.inLoop ? ", as if no other seam helped" : "";
    if (!c.enough())
        return fmt::format("carries the {} and {:.1f} N m that hang on it at {:.2g} times only{}, {:g} is wanted ({}): "
                           "nothing that has room here does better",
                           load, c.momentNm, c.safety, alone, c.limit, c.weakest);
    const std::string times = c.safety > ampleSafety ? fmt::format("more than {:g} times", ampleSafety)
                                                     : fmt::format("{:.1f} times", c.safety);
    return fmt::format("carries the {} that hang on it at {}{}", load, times, alone);
}

} // namespace quoin::core
