// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint_rules.h"
#include "core/project.h"

#include <map>
#include <memory>
#include <mutex>
#include <optional>

namespace quoin::core {

/// Answers whether a joint may stand at a place, fast enough to be asked at each move of the mouse: the trees over the
/// pieces are built once, by a worker. Keeps the project that it answers for. Safe from several threads.
class JointProbe {
public:
    explicit JointProbe(std::shared_ptr<const Project> project);

    const Project& project() const { return *m_project; }

    /// Builds what questions about a joint of this seam and size need; takes seconds on pieces of a million triangles.
    void warmUp(const Joint& joint) const;
    /// Whether questions about it are answered at once.
    bool ready(const Joint& joint) const;

    /// Why one of the joints breaks a rule; nullopt when it keeps them all. Warms up first where it has to.
    /// @param joints  all that count, those to be kept clear of among them; the project's own don't count by themselves
    /// @param marks   numbers that stay where they are; those of the layout find another place
    std::optional<JointFault> fault(const std::vector<Joint>& joints, std::size_t which,
                                    const std::vector<Mark>& marks = {}) const;

    /// By how much one of the joints has more room than it needs, if its axis stood at a place; mm, negative where it
    /// has too little. Changes by no more than the place moves; of a draw bolt or a dovetail only its sign tells.
    double spareMm(const std::vector<Joint>& joints, std::size_t which, mesh::Vec2 at) const;

private:
    const JointRoom& roomFor(const Joint& joint) const;
    JointScene sceneFor(const Joint& joint) const;

    std::shared_ptr<const Project> m_project;
    mutable std::mutex m_lock;                ///< guards the map; rooms in it stay where they are
    mutable std::map<int, JointRoom> m_rooms; ///< by reach: usual times two to the power of the key
};

} // namespace quoin::core
