// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/joint_words.h"

#include "core/joint_defaults.h"
#include "ui/quantity_text.h"

#include <algorithm>
#include <cmath>

namespace quoin::ui {

namespace {

using Kind = core::JointForm::Kind;
using Form = core::JointForm;

constexpr double mostSafety = 99; ///< more than that says nothing more

/// A printable thread by its diameter alone: its designation is long.
QString briefSize(const Form& joint)
{
    const bool threaded = joint.kind == Kind::Screw || joint.kind == Kind::Stud;
    return threaded && !joint.thread.trapezoidal ? numberText(joint.diameterMm, 2) + " mm"
                                                 : QString::fromStdString(core::sizeName(joint));
}

} // namespace

QString countWords(const FaceRow& face)
{
    QStringList words;
    for (const Kind kind : core::allJointKinds) {
        std::vector<const Form*> all;
        for (const JointRow& row : face.joints)
            if (row.joint.kind == kind)
                all.push_back(&row.joint);
        if (all.empty())
            continue;
        QString some =
            all.size() == 1 ? "1 " + kindWords(kind) : QString("%1 %2").arg(all.size()).arg(kindsWords(kind));
        const QString size = briefSize(*all.front());
        if (std::ranges::all_of(all, [&](const Form* f) { return briefSize(*f) == size; }))
            some += (size.front().isDigit() ? " of " : " ") + size;
        words << some;
    }
    return words.join(", ");
}

StandingWords standingOf(const JointRow& joint)
{
    if (joint.fault.isEmpty())
        return {Verdict::Good, "good",
                "Size, clearance and wall have room in both pieces over the whole depth, and so have the joints "
                "beside it."};
    return {joint.impossible ? Verdict::Bad : Verdict::Warning, joint.impossible ? "can't be made" : "breaks a rule",
            asSentence(joint.fault)};
}

StandingWords standingOf(const FaceRow& face, const core::JointOptions& options)
{
    StandingWords words{Verdict::Good, {}, asSentence(face.got)};
    if (face.joints.empty()) {
        const bool wanted = face.choice.how == core::FaceChoice::How::Automatic && options.wanted;
        words.verdict = wanted ? Verdict::Warning : Verdict::None;
        words.brief = wanted ? "plain: no room" : "plain, glue";
        return words;
    }
    words.brief = "good";
    if (face.strength && face.strength->low) {
        words.verdict = Verdict::Warning;
        words.brief = "weak"; // how weak stands beside it
    }
    if (face.strength)
        words.whole += '\n' + sentenceCase(face.strength->words);
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

QString kindWords(Kind kind)
{
    return core::kindName(kind);
}

QString kindsWords(Kind kind)
{
    return kindWords(kind) + 's';
}

QString kindWords(const Form& joint)
{
    QString words = kindWords(joint.kind);
    switch (joint.kind) {
    case Kind::Dowel:
        words += joint.rod == Form::Rod::Wood ? ", wood" : joint.rod == Form::Rod::Steel ? ", steel" : "";
        return words + (joint.keyed ? ", keyed" : "");
    case Kind::Screw:
    case Kind::Stud:
        return words + (joint.thread.leftHand ? ", left hand" : "");
    case Kind::Key:
        words = (joint.section == Form::Section::Square ? "square "
                 : joint.section == Form::Section::D    ? "D "
                                                        : "cross ") +
                words;
        return words + (joint.integral ? "" : ", loose");
    case Kind::DrawBolt:
        return words + (joint.hold == Form::Hold::Insert ? ", insert" : ", nut");
    case Kind::ClockingKey:
        return words + ", loose";
    case Kind::Dovetail:
        break;
    }
    return words;
}

QString kindHelp(Kind kind)
{
    switch (kind) {
    case Kind::Dowel:
        return "A loose round pin in a bore on either side. Two or more fix the pieces; glue holds them.";
    case Kind::Screw:
        return "A thread grown on one piece, screwed into the other: holds without glue. One a face, and the piece "
               "must "
               "be free to turn.";
    case Kind::Stud:
        return "A loose rod with a thread at either end, for pieces that can't be turned far.";
    case Kind::Key:
        return "Not round: one alone holds the angle.";
    case Kind::Dovetail:
        return "Undercut: the pieces slide together from the side and can't be pulled apart.";
    case Kind::DrawBolt:
        return "A bought metric bolt through one piece into a nut or an insert in the other: can be undone.";
    case Kind::ClockingKey:
        return "A loose bar let in from outside, half in either piece, when they are together: a screw can't turn "
               "back.";
    }
    return {};
}

QString sizeWords(const Form& joint)
{
    const QString size = briefSize(joint).remove(" mm");
    return QString("%1 × %2 mm").arg(size, numberText(joint.depthMm, 2));
}

QString sizeHelp(const Form& joint)
{
    const QString size = QString::fromStdString(core::sizeName(joint)), depth = numberText(joint.depthMm, 3);
    switch (joint.kind) {
    case Kind::Dowel:
    case Kind::Stud:
        return QString("%1 diameter, %2 mm into each side").arg(size, depth);
    case Kind::Key:
        return QString("%1 round its section, %2 mm into %3")
            .arg(size, depth, joint.integral ? QString("the other piece") : QString("each side"));
    case Kind::Screw:
        return QString("%1, %2 mm into the other piece, %3 turns")
            .arg(size, depth, numberText(core::turnsOf(joint), 1));
    case Kind::Dovetail:
        return QString("%1, %2 mm high").arg(size, depth);
    case Kind::ClockingKey:
        return QString("%1, %2 mm into each side").arg(size, depth);
    case Kind::DrawBolt:
        return QString("%1, head %2 mm and hold %3 mm from the face").arg(size, numberText(joint.gripMm, 3), depth);
    }
    return {};
}

QString safetyText(double safety)
{
    return std::isinf(safety)    ? QStringLiteral("∞")
           : safety > mostSafety ? QStringLiteral("> %1").arg(mostSafety)
                                 : numberText(safety, 1, 1);
}

QString piecesWords(const FaceRow& face)
{
    return QString("%1 | %2").arg(face.pieceBelow).arg(face.pieceAbove);
}

QString fitWords(core::Fit fit, const PartJoints& part, const std::vector<core::FitProcess>& processes)
{
    const core::Clearances all = core::clearancesFor(part.fits, part.material.toStdString(), part.machine, fit);
    double least = 1e300, most = -1e300;
    for (const core::FitProcess process : processes) {
        least = std::min(least, all.of(process));
        most = std::max(most, all.of(process));
    }
    const QString words = QString::fromStdString(core::fitName(fit)) + ", ", from = numberText(least, 2, 2);
    return words + (most > least ? QString("%1 to %2 mm a side").arg(from, numberText(most, 2, 2))
                                 : QString("%1 mm a side").arg(from));
}

std::vector<core::FitProcess> processesOf(const FaceRow& face)
{
    std::vector<core::FitProcess> out;
    for (const JointRow& row : face.joints)
        if (const auto process = core::fitProcessOf(row.joint); std::ranges::find(out, process) == out.end())
            out.push_back(process);
    if (out.empty())
        out = {core::FitProcess::Dowel, core::FitProcess::Key, core::FitProcess::Thread};
    return out;
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

QString asSentence(const QString& text)
{
    const QString words = sentenceCase(text.trimmed());
    return words.isEmpty() || words.endsWith('.') ? words : words + '.';
}

} // namespace quoin::ui
