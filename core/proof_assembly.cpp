// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/assembly.h"
#include "core/proof_evidence.h"
#include "core/proof_insertion.h"
#include "mesh/tolerance.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace quoin::core {

namespace {

/// Largest angle between the axis of a loose part and the way its pieces go together.
constexpr double parallelDegrees = 0.01;
/// A piece that reaches further out than this was damaged: it is not swept, and counts as not placed.
constexpr double farthestMm = 1e5;

bool sane(const mesh::Mesh& mesh)
{
    return std::all_of(mesh.points.begin(), mesh.points.end(), [](mesh::Vec3 p) {
        return std::fabs(p.x) <= farthestMm && std::fabs(p.y) <= farthestMm && std::fabs(p.z) <= farthestMm;
    });
}

/// The order of core/assembly.h, found and measured on the files.
class Assembly {
public:
    Assembly(const Evidence& evidence, Proof& proof) : m_evidence(evidence), m_proof(proof)
    {
        const Project& project = evidence.project;
        m_input = {{}, {}, &project.plan, &project.seams, &project.layout.joints};
        for (const Piece& piece : project.pieces) {
            const mesh::Mesh& mesh = evidence.meshOf(piece.number);
            const bool usable = sane(mesh);
            m_damaged += !usable;
            m_input.meshes.push_back(usable ? &mesh : nullptr);
            m_input.paths.push_back(piece.path);
        }
    }

    void run()
    {
        if (m_input.count() == 1) {
            m_proof.assembly.push_back("1. One piece: nothing to put together.");
            return;
        }
        // The order that the export has in its project; an earlier one, without, gets one found for it.
        const AssemblyPlan& own = m_evidence.project.assembly;
        AssemblyPlan plan = own.steps.empty() && own.problems.empty() ? planAssembly(m_input) : own;
        for (AssemblyProblem& gap : gapsIn(plan, m_input.count()))
            plan.problems.push_back(std::move(gap));
        for (const AssemblyStep& step : plan.steps)
            prove(step);
        std::size_t unplaced = m_damaged;
        std::string text = "an order exists in which every piece comes to its place (pieces without one)";
        for (const AssemblyProblem& problem : plan.problems) {
            unplaced += problem.pieces.size();
            text += "; " + problem.text;
            m_proof.assembly.push_back("No order found: " + problem.text);
        }
        m_proof.claims.push_back(
            claim("assembly.order", "the set", text, static_cast<double>(unplaced), "=", 0, "pieces"));
        for (const Piece& piece : m_evidence.project.pieces)
            if (piece.path.empty())
                m_proof.assembly.push_back(fmt::format("Piece {} was never cut from the others.", piece.number));
    }

private:
    void prove(const AssemblyStep& step)
    {
        const int number = ++m_steps;
        m_proof.assembly.push_back(fmt::format("{}. {}", number, step.words));
        const std::string subject = fmt::format("step {}", number);
        const StepMeasure measure = measureStep(m_input, step);
        m_proof.claims.push_back(
            claim("assembly.free", subject,
                  measure.swept ? fmt::format("nothing is in the way of what moves, swept along its whole way on the "
                                              "files' surfaces (overlap; negative: least gap beside it, looked for up "
                                              "to {:g} mm)",
                                              gapSoughtMm)
                                : std::string("the two sides lie apart along the way they move, so nothing is in its "
                                              "way (overlap)"),
                  -measure.gapMm, "<=", 2 * mesh::tolerance::planeSlackMm, "mm"));
        if (step.motion.kind == Motion::Kind::Helix)
            m_proof.claims.push_back(claim("assembly.turn", subject,
                                           fmt::format("it turns onto its thread of lead {:g} mm, swept from the seat "
                                                       "to past the thread's end and from there straight off; least "
                                                       "gap beside it over {:.2f} turns",
                                                       step.motion.leadMm, step.motion.turns()),
                                           measure.gapMm, ">=", -2 * mesh::tolerance::planeSlackMm, "mm"));
        m_proof.claims.push_back(claim("assembly.parallel", subject,
                                       "every loose part on it points along the way it moves (largest angle)",
                                       largestAngle(step), "<=", parallelDegrees, "degrees"));
        proveAccess(m_evidence, step, subject, m_proof);
    }

    /// Between the way and the loose parts on it: that axis of each one's print pose that comes nearest, since a pin
    /// lies along the plate and a stud may stand on it.
    double largestAngle(const AssemblyStep& step) const
    {
        double worst = 0;
        for (const PartFile& part : m_evidence.parts) {
            // A clocking key comes from the side (assembly.insert).
            if (part.kind == "piece" || part.kind == kindName(JointForm::Kind::ClockingKey) || part.mesh.empty())
                continue;
            const mesh::Vec3 middle = mesh::bounds(part.mesh).centre();
            for (const mesh::Transform& placement : part.placements)
                if (belongsTo(step, placement.point(middle)))
                    worst = std::max(worst, angleTo(step.motion.direction, placement));
        }
        return worst;
    }

    static double angleTo(mesh::Vec3 way, const mesh::Transform& placement)
    {
        double least = 180;
        for (const mesh::Vec3 own : {mesh::Vec3{1, 0, 0}, mesh::Vec3{0, 1, 0}, mesh::Vec3{0, 0, 1}}) {
            const mesh::Vec3 axis = placement.direction(own);
            const double sine = mesh::length(mesh::cross(axis, way));
            least = std::min(least, std::atan2(sine, std::fabs(mesh::dot(axis, way))) * 180 / M_PI);
        }
        return least;
    }

    /// Whether the joint nearest to a place is one of the step's.
    bool belongsTo(const AssemblyStep& step, mesh::Vec3 at) const
    {
        const std::vector<Joint>& joints = m_evidence.project.layout.joints;
        double nearest = 1e300;
        bool here = false;
        for (std::size_t j = 0; j < joints.size(); ++j) {
            if (joints[j].kind == Joint::Kind::ClockingKey)
                continue;
            const double d = mesh::length(mesh::frameOf(m_input.cutOf(joints[j])).space(joints[j].at) - at);
            if (d < nearest) {
                nearest = d;
                here = std::binary_search(step.joints.begin(), step.joints.end(), j);
            }
        }
        return here;
    }

    const Evidence& m_evidence;
    Proof& m_proof;
    AssemblyInput m_input;
    std::size_t m_damaged = 0;
    int m_steps = 0;
};

} // namespace

void proveAssembly(const Evidence& evidence, Proof& proof)
{
    Assembly(evidence, proof).run();
    proveInsertion(evidence, proof);
}

} // namespace quoin::core
