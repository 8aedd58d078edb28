// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/joint_words.h"

#include "ui/quantity_text.h"

#include <algorithm>

namespace quoin::ui {

namespace {

QString countWords(const FaceRow& face)
{
    const auto n = face.joints.size();
    const double first = face.joints.front().joint.diameterMm;
    const bool alike = std::ranges::all_of(face.joints, [&](const JointRow& j) { return j.joint.diameterMm == first; });
    QString words = n == 1 ? QString("1 dowel") : QString("%1 dowels").arg(n);
    if (alike)
        words += QString(" of %1 mm").arg(numberText(first, 2));
    return words;
}

} // namespace

StandingWords standingOf(const JointRow& joint)
{
    if (joint.fault.isEmpty())
        return {Verdict::Good, "good",
                "Radius, clearance and wall have room in both pieces over the whole depth, and so have the bores "
                "beside it."};
    return {joint.impossible ? Verdict::Bad : Verdict::Warning, joint.impossible ? "can't be made" : "breaks a rule",
            sentenceCase(joint.fault) + '.'};
}

StandingWords standingOf(const FaceRow& face, const core::JointOptions& options)
{
    StandingWords words{Verdict::Good, {}, sentenceCase(face.got) + '.'};
    if (face.joints.empty()) {
        const bool wanted = face.choice.how == core::FaceChoice::How::Automatic && options.wanted;
        words.verdict = wanted ? Verdict::Warning : Verdict::None;
        words.brief = wanted ? "plain: no room" : "plain, glue";
        return words;
    }
    words.brief = countWords(face);
    for (const JointRow& joint : face.joints) {
        const StandingWords own = standingOf(joint);
        if (own.verdict != Verdict::Good)
            words.whole += QString("\n%1: %2").arg(joint.name, own.whole);
        if (own.verdict == Verdict::Bad || (own.verdict == Verdict::Warning && words.verdict == Verdict::Good)) {
            words.verdict = own.verdict;
            words.brief = joint.name + ' ' + own.brief;
        }
    }
    return words;
}

QString piecesWords(const FaceRow& face)
{
    return QString("%1 | %2").arg(face.pieceBelow).arg(face.pieceAbove);
}

QString fitWords(core::Fit fit, const QString& material)
{
    QString words = QString::fromStdString(core::fitName(fit));
    if (const core::Material* found = core::findMaterial(material.toStdString()))
        words += QString(", %1 mm a side").arg(numberText(found->clearanceMm(fit), 2, 2));
    return words;
}

core::Fit fitOf(const FaceRow& face, const PartJoints& part)
{
    return face.choice.fit.value_or(part.fit);
}

QString sentenceCase(QString text)
{
    if (!text.isEmpty())
        text[0] = text[0].toUpper();
    return text;
}

} // namespace quoin::ui
