// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/bed_words.h"

#include "ui/window_words.h"

namespace quoin::ui {

namespace {

QString number(double mm)
{
    return QString::number(mm, 'g', 6);
}

} // namespace

QString bedSizeWords(const core::Bed& bed)
{
    if (bed.shape == core::Bed::Shape::Round)
        return QStringLiteral("round, %1 mm across, %2 mm high").arg(number(bed.widthMm), number(bed.heightMm));
    return QStringLiteral("%1 × %2 × %3 mm").arg(number(bed.widthMm), number(bed.depthMm), number(bed.heightMm));
}

QString bedWords(const core::Bed& bed)
{
    const QString name = QString::fromStdString(bed.name);
    QString words = bed.name.empty() || bed.name == core::sizeWords(bed)
                        ? bedSizeWords(bed)
                        : QStringLiteral("%1 (%2)").arg(name, bedSizeWords(bed));
    if (bed.machines > 1)
        words += QStringLiteral(", %1 machines").arg(bed.machines);
    return words;
}

QString problemWords(const Problem& problem)
{
    QString words = QString::fromStdString(problem.what);
    if (!words.isEmpty())
        words[0] = words[0].toUpper();
    if (!problem.place.empty())
        words += QStringLiteral(", at %1").arg(QString::fromStdString(problem.place));
    words += u'.';
    if (!problem.remedy.empty())
        words += u' ' + windowWords(problem.remedy);
    return words;
}

} // namespace quoin::ui
