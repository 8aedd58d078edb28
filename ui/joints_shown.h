// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/realise.h"
#include "core/strength.h"

#include <QString>

#include <optional>
#include <vector>

namespace quoin::ui {

/// A joint as the list shows it.
struct JointRow {
    QString name; ///< "A1"
    core::Joint joint;
    QString fault; ///< the rule that it breaks, with what would help; empty: none
    bool impossible = false;
};

/// How strong a face is, as far as it has been reckoned.
struct FaceStrength {
    double safety = 0; ///< of the weakest check; infinite without load
    bool low = false;  ///< below the limit
    QString words;
    QString marks;                           ///< of all faces that are reckoned as one: "B, C"
    std::vector<core::StrengthCheck> checks; ///< weakest first
};

/// A face between two pieces as the list shows it.
struct FaceRow {
    std::size_t seam = 0; ///< index into the project's seams
    QString mark;         ///< "A"
    int pieceBelow = 0, pieceAbove = 0;
    double areaMm2 = 0;
    mesh::Region region;                       ///< frameOf(plane of the cut)
    double depthBelowMm = 0, depthAboveMm = 0; ///< of the pieces, from the face
    QString got;                               ///< in words
    bool butt = false;                         ///< no joint
    bool held = false; ///< the design holds a choice for it; else `choice` is a fresh one, its `at` not yet set
    core::FaceChoice choice;
    std::optional<FaceStrength> strength; ///< none: not known (yet)
    std::vector<JointRow> joints;         ///< in the order of choice.joints when by hand
};

/// The joints of a part.
struct PartJoints {
    std::vector<FaceRow> faces;
    core::JointOptions options;
    core::Fit fit = core::Fit::Sliding;
    QString material;
    std::string machine;
    std::vector<core::FitRow> fits; ///< the maker's own rows that count
};

/// What the list shows of a part that has been worked out up to its joints.
PartJoints jointsShown(const core::Realised& realised, const core::PartDesign& part);

/// Strength of each face, by seam; none for faces that nothing hangs on.
std::vector<std::optional<FaceStrength>> strengthShown(const core::StrengthReport& report, std::size_t seams);

} // namespace quoin::ui
