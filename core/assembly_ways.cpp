// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/assembly_ways.h"

#include "mesh/mass.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace quoin::core {

namespace {

using mesh::Vec3;

constexpr double sameDirection = 1e-7;
constexpr double sameLengthMm = 1e-6;
/// A way counts as leading into a face when it goes towards it by more than this share of itself.
constexpr double intoFace = 1e-6;
constexpr double notCentredMm = 0.01;

bool alike(const Motion& a, const Motion& b)
{
    if (a.kind != b.kind || mesh::length(a.direction - b.direction) > sameDirection)
        return false;
    if (a.kind == Motion::Kind::Straight)
        return true;
    const Vec3 d = b.point - a.point;
    return mesh::length(d - mesh::dot(d, a.direction) * a.direction) <= sameLengthMm &&
           std::abs(a.leadMm - b.leadMm) <= sameLengthMm && std::abs(a.travelMm - b.travelMm) <= sameLengthMm;
}

const std::vector<std::size_t> none;

} // namespace

std::string directionWords(Vec3 d)
{
    // + 0.0 so that no "-0" is written.
    const auto rounded = [](double x) { return std::round(x * 1000) / 1000 + 0.0; };
    return fmt::format("({:g}, {:g}, {:g})", rounded(d.x), rounded(d.y), rounded(d.z));
}

AssemblyWays::AssemblyWays(const AssemblyInput& input) : m_input(input)
{
    for (std::size_t s = 0; s < input.seams->size(); ++s)
        m_seams[std::minmax((*input.seams)[s].pieceBelow, (*input.seams)[s].pieceAbove)].push_back(s);
    for (std::size_t j = 0; j < input.joints->size(); ++j) {
        const Seam& seam = (*input.seams)[(*input.joints)[j].seam];
        m_joints[std::minmax(seam.pieceBelow, seam.pieceAbove)].push_back(j);
    }
}

std::size_t AssemblyWays::numberOf(const Motion& motion)
{
    const auto found =
        std::find_if(m_motions.begin(), m_motions.end(), [&](const Motion& m) { return alike(m, motion); });
    if (found != m_motions.end())
        return static_cast<std::size_t>(found - m_motions.begin());
    m_motions.push_back(motion);
    return m_motions.size() - 1;
}

const std::vector<std::size_t>& AssemblyWays::joints(int piece, int other) const
{
    const auto found = m_joints.find(std::minmax(piece, other));
    return found == m_joints.end() ? none : found->second;
}

const std::vector<std::size_t>& AssemblyWays::seams(int piece, int other) const
{
    const auto found = m_seams.find(std::minmax(piece, other));
    return found == m_seams.end() ? none : found->second;
}

const mesh::Mesh* AssemblyWays::meshOf(int piece) const
{
    const mesh::Mesh* mesh = m_input.meshes[static_cast<std::size_t>(piece) - 1];
    return mesh != nullptr && !mesh->empty() ? mesh : nullptr;
}

double AssemblyWays::volume(int piece) const
{
    const mesh::Mesh* mesh = meshOf(piece);
    return mesh != nullptr ? mesh::volume(*mesh) : 0;
}

AssemblyWays::Range AssemblyWays::range(int piece, std::size_t motion)
{
    const auto [at, isNew] = m_ranges.try_emplace({piece, motion});
    if (isNew) {
        const Motion& m = m_motions[motion];
        for (const Vec3 p : meshOf(piece)->points) {
            const double height = mesh::dot(m.direction, p);
            at->second.low = std::min(at->second.low, height);
            at->second.high = std::max(at->second.high, height);
        }
    }
    return at->second;
}

const mesh::SweptBody& AssemblyWays::body(int piece, std::size_t motion)
{
    auto& body = m_bodies[{piece, motion}];
    if (!body)
        body = std::make_unique<mesh::SweptBody>(*meshOf(piece), m_motions[motion].sweep());
    return *body;
}

const mesh::SweptBody& AssemblyWays::bodyOffThread(int piece, std::size_t motion)
{
    auto& body = m_offThread[{piece, motion}];
    if (!body) {
        const Motion& m = m_motions[motion];
        body = std::make_unique<mesh::SweptBody>(
            mesh::transformed(*meshOf(piece), mesh::placeAlong(m.sweep(), m.travelMm)),
            mesh::Sweep{{0, 0, 0}, m.direction, 0});
    }
    return *body;
}

const AssemblyWays::Block* AssemblyWays::block(int piece, int other, std::size_t motion)
{
    const auto [at, isNew] = m_known.try_emplace({piece, other, motion});
    if (isNew)
        at->second = find(piece, other, motion);
    return at->second ? &*at->second : nullptr;
}

std::optional<AssemblyWays::Block> AssemblyWays::find(int piece, int other, std::size_t motion)
{
    const Motion m = m_motions[motion];
    for (const std::size_t j : joints(piece, other)) {
        const Joint& joint = (*m_input.joints)[j];
        if (!allows(joint, m_input.cutOf(joint), (*m_input.seams)[joint.seam].pieceAbove == piece, m))
            return Block{Why::Joint, j, 0, {}, false};
    }
    for (const std::size_t s : seams(piece, other)) {
        const Seam& seam = (*m_input.seams)[s];
        const Vec3 normal = m_input.plan->nodes[static_cast<std::size_t>(seam.cut)].plane.normal;
        if (mesh::dot(m.direction, seam.pieceAbove == piece ? normal : -normal) < -intoFace)
            return Block{Why::Face, 0, 0, {}, false};
    }
    if (meshOf(piece) == nullptr || meshOf(other) == nullptr)
        return {};
    const double way = range(other, motion).high - range(piece, motion).low;
    if (way <= restSlackMm)
        return {};
    const bool helix = m.kind == Motion::Kind::Helix;
    if (const auto hit = mesh::firstContact(body(piece, motion), body(other, motion), restSlackMm,
                                            helix ? std::min(way, m.travelMm) : way))
        return Block{Why::Hit, 0, hit->wayMm, hit->place, false};
    if (!helix || way <= m.travelMm + restSlackMm)
        return {};
    const std::size_t straight = numberOf({Motion::Kind::Straight, {0, 0, 0}, m.direction, 0, 0});
    if (const auto hit = mesh::firstContact(bodyOffThread(piece, motion), body(other, straight), 0, way - m.travelMm))
        return Block{Why::Hit, 0, m.travelMm + hit->wayMm, hit->place, true};
    return {};
}

StepMeasure AssemblyWays::measure(int piece, int other, std::size_t motion)
{
    if (meshOf(piece) == nullptr || meshOf(other) == nullptr)
        return {false, gapSoughtMm};
    const Motion m = m_motions[motion];
    const double way = range(other, motion).high - range(piece, motion).low;
    if (way <= restSlackMm)
        return {false, -way};
    const bool helix = m.kind == Motion::Kind::Helix;
    double gap = mesh::leastGapBeside(body(piece, motion), body(other, motion), restSlackMm,
                                      helix ? std::min(way, m.travelMm) : way, gapSoughtMm);
    if (helix && way > m.travelMm + restSlackMm) {
        const std::size_t straight = numberOf({Motion::Kind::Straight, {0, 0, 0}, m.direction, 0, 0});
        gap = std::min(gap, mesh::leastGapBeside(bodyOffThread(piece, motion), body(other, straight), 0,
                                                 way - m.travelMm, gapSoughtMm));
    }
    return {true, gap};
}

std::string AssemblyWays::words(int piece, int other, std::size_t motion, const Block& block) const
{
    const Motion& m = m_motions[motion];
    if (block.why == Why::Face)
        return fmt::format("piece {} would go into piece {}, whose face it lies on", piece, other);
    if (block.why == Why::Joint) {
        const Joint& joint = (*m_input.joints)[block.joint];
        const std::string on = fmt::format("the {} on seam {} between {} and {}", kindName(joint.kind),
                                           (*m_input.seams)[joint.seam].mark, piece, other);
        if (m.kind == Motion::Kind::Straight)
            return on + " allows no push along " + directionWords(m.direction);
        const Vec3 d = wayOff(joint, m_input.cutOf(joint)).point - m.point;
        const double off = mesh::length(d - mesh::dot(d, m.direction) * m.direction);
        if (off > notCentredMm)
            return fmt::format("{} stands {:.1f} mm off the axis and can't turn about it", on, off);
        return on + (joint.kind == JointForm::Kind::Screw || joint.kind == JointForm::Kind::Stud
                         ? " has another lead, hand or direction"
                         : " is not round and can't turn");
    }
    if (m.kind == Motion::Kind::Straight)
        return fmt::format("piece {} hits piece {} after {:.1f} mm along {}", piece, other, block.afterMm,
                           directionWords(m.direction));
    if (block.afterThread)
        return fmt::format("piece {}, off the thread, hits piece {} {:.1f} mm on along {}", piece, other,
                           block.afterMm - m.travelMm, directionWords(m.direction));
    const auto radius = [&](Vec3 p) {
        return mesh::length(p - m.point - mesh::dot(p - m.point, m.direction) * m.direction);
    };
    double reach = 0;
    for (const Vec3 p : meshOf(piece)->points)
        reach = std::max(reach, radius(p));
    return fmt::format(
        "piece {} hits piece {} after {:.0f} degrees ({:.1f} mm off its seat): it reaches {:.0f} mm from "
        "the axis and meets the other {:.0f} mm from it, {:.0f} mm too much",
        piece, other, 360 * block.afterMm / std::abs(m.leadMm), block.afterMm, reach, radius(block.place),
        std::max(0.0, reach - radius(block.place)));
}

std::vector<Blocking> AssemblyWays::blockings() const
{
    std::vector<Blocking> out;
    for (const auto& [key, block] : m_known)
        if (block) {
            const auto& [piece, other, motion] = key;
            out.push_back({piece, other, m_motions[motion], block->afterMm, words(piece, other, motion, *block)});
        }
    return out;
}

} // namespace quoin::core
