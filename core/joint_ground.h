// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/face_choice.h"
#include "core/joint_envelope.h"
#include "core/joint_rules.h"
#include "core/joint_sites.h"

#include <map>
#include <memory>
#include <string>
#include <vector>

namespace quoin::core {

/// The joints placed so far and the room that they leave: what the choosers of each kind build on.
class JointGround {
public:
    /// Everything is kept by reference.
    JointGround(const std::vector<Piece>& pieces, const std::vector<Seam>& seams, const CutPlan& plan,
                const JointOptions& options, const SeamChoices& choices);

    const JointScene& scene() const { return m_scene; }
    const Seam& seam(std::size_t index) const { return m_scene.seams[index]; }
    const JointOptions& options() const { return m_options; }
    const std::vector<Joint>& joints() const { return m_joints; }

    /// A joint on a seam with the clearances that the seam has for its kind.
    Joint jointOf(std::size_t seam, const JointForm& form) const;
    /// What the maker named as the largest size on a seam; none: no wish.
    std::optional<double> largestAsked(std::size_t seam) const;

    /// Clear of every other joint in either piece, and possible beside it.
    bool clear(const Joint& joint) const;
    /// Keeps all rules, and its mouth a wall from the seam's outline (not along a dovetail's way).
    bool fits(const Joint& joint) const;
    void put(const Joint& joint);

    /// What is taken of a seam's two pieces, for marks.
    std::vector<Capsule> takenAround(std::size_t seam) const;
    /// Least distance from a point to what joints take of a seam's two pieces, mm; infinite where there are none.
    double takenGap(std::size_t seam, mesh::Vec3 p) const;
    /// Joints in the order of their seams.
    std::vector<Joint> sorted() const;

private:
    const JointOptions& m_options;
    const SeamChoices& m_choices;
    std::shared_ptr<const JointRoom> m_room; ///< shared by copies, which are for trying things out
    JointScene m_scene;
    std::vector<Joint> m_joints;
    std::map<std::pair<int, int>, std::vector<std::size_t>> m_between; ///< joints by the two pieces, lower number first
    struct Taken {
        std::vector<TakenBody> bodies;
        std::vector<Capsule> capsules;
    };
    std::map<int, Taken> m_taken; ///< by piece number
};

/// What was chosen for a seam.
struct Chosen {
    std::vector<Joint> joints; ///< empty: nothing fits
    std::string text;          ///< which and why; or why nothing fits
    explicit operator bool() const { return !joints.empty(); }
};

/// Largest distance between two joints' axes.
double spreadOf(const std::vector<Joint>& joints);

/// Farthest-point choice: the two places farthest apart, then whatever is farthest from those chosen, up to `count`,
/// none nearer to another than leastMm. Fewer than two when no two are that far apart.
std::vector<mesh::Vec2> farApart(const std::vector<mesh::Vec2>& places, std::size_t count, double leastMm);

} // namespace quoin::core
