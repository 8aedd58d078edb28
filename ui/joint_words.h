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

/// "dowel", "draw bolt"
QString kindWords(core::JointForm::Kind kind);
/// More than one of them.
QString kindsWords(core::JointForm::Kind kind);
/// With what tells it from others of its kind: "dowel, keyed", "D key, loose", "stud, left hand".
QString kindWords(const core::JointForm& joint);
/// What a kind is for, in a sentence.
QString kindHelp(core::JointForm::Kind kind);
/// "10 × 15 mm", "Tr 40x7 × 30 mm", "M8 × 24 mm"; at length for the tooltip.
QString sizeWords(const core::JointForm& joint);
QString sizeHelp(const core::JointForm& joint);
/// "3.2"; "∞" when nothing is asked of a face.
QString safetyText(double safety);

/// "2 dowels of 10 mm", "1 screw Tr 40x7, 2 dowels of 8 mm"; empty when there is none.
QString countWords(const FaceRow& face);
/// "3 | 5"
QString piecesWords(const FaceRow& face);
/// "sliding, 0.25 mm a side"; "sliding, 0.25 to 0.35 mm a side" while several kinds may come: their clearances differ.
QString fitWords(core::Fit fit, const PartJoints& part, const std::vector<core::FitProcess>& processes);
/// What the joints of a face are fitted as; all that may come while it has none.
std::vector<core::FitProcess> processesOf(const FaceRow& face);
/// The fit that counts on a face.
core::Fit fitOf(const FaceRow& face, const PartJoints& part);
/// First letter large.
QString sentenceCase(QString text);
/// The same, ended by one full stop.
QString asSentence(const QString& text);

} // namespace quoin::ui
