// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/joints_shown.h"
#include "ui/theme.h"

#include <QString>

namespace quoin::ui {

/// How a face or a joint stands, in a shape and a word or two; the whole reason for its tooltip.
struct StandingWords {
    Verdict verdict = Verdict::None;
    QString brief;
    QString whole;
};

/// A face: good with joints that keep the rules; needs attention when one breaks a rule or none found room; plain when
/// that is what was wanted.
StandingWords standingOf(const FaceRow& face, const core::JointOptions& options);
StandingWords standingOf(const JointRow& joint);

/// "3 | 5"
QString piecesWords(const FaceRow& face);
/// "sliding, 0.25 mm a side"
QString fitWords(core::Fit fit, const QString& material);
/// The fit that counts on a face.
core::Fit fitOf(const FaceRow& face, const PartJoints& part);
/// First letter large.
QString sentenceCase(QString text);

} // namespace quoin::ui
