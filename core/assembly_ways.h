// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/assembly.h"

#include <map>
#include <memory>
#include <tuple>

/// For core/assembly*.cpp only.
namespace quoin::core {

/// A number of mm by which pieces may reach into each other at rest.
inline constexpr double restSlackMm = 2 * mesh::sweepPullMm;

/// Which piece can move in which way past which: the blocking graphs, worked out edge by edge as they are asked for.
class AssemblyWays {
public:
    enum class Why { Joint, Face, Hit };
    struct Block {
        Why why;
        std::size_t joint = 0; ///< which one forbids it
        double afterMm = 0;
        mesh::Vec3 place{0, 0, 0};
        bool afterThread = false; ///< hit on the straight way beyond the thread
    };

    explicit AssemblyWays(const AssemblyInput& input);

    const AssemblyInput& input() const { return m_input; }
    /// The number of a motion; motions that agree up to rounding have the same.
    std::size_t numberOf(const Motion& motion);
    const Motion& motion(std::size_t number) const { return m_motions[number]; }

    /// What keeps a piece, leaving by a motion, from passing another; null: nothing.
    const Block* block(int piece, int other, std::size_t motion);
    /// The least gap between the two on the way.
    StepMeasure measure(int piece, int other, std::size_t motion);
    /// Joints between two pieces.
    const std::vector<std::size_t>& joints(int piece, int other) const;
    /// Seams between two pieces.
    const std::vector<std::size_t>& seams(int piece, int other) const;

    std::vector<Blocking> blockings() const;
    std::string words(int piece, int other, std::size_t motion, const Block& block) const;
    double volume(int piece) const;

private:
    using Pair = std::pair<int, int>;
    using PieceWay = std::pair<int, std::size_t>;
    struct Range {
        double low = 1e300, high = -1e300;
    };

    std::optional<Block> find(int piece, int other, std::size_t motion);
    const mesh::Mesh* meshOf(int piece) const;
    Range range(int piece, std::size_t motion);
    const mesh::SweptBody& body(int piece, std::size_t motion);
    const mesh::SweptBody& bodyOffThread(int piece, std::size_t motion);

    AssemblyInput m_input;
    std::vector<Motion> m_motions;
    std::map<Pair, std::vector<std::size_t>> m_joints, m_seams;
    std::map<PieceWay, Range> m_ranges;
    std::map<PieceWay, std::unique_ptr<mesh::SweptBody>> m_bodies, m_offThread;
    std::map<std::tuple<int, int, std::size_t>, std::optional<Block>> m_known;
};

/// "(0, 0.6, -0.8)".
std::string directionWords(mesh::Vec3 d);

} // namespace quoin::core
