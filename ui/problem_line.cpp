// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/problem_line.h"

namespace quoin::ui {

ProblemLine::ProblemLine(const char* name, QWidget* parent) : QLabel(parent)
{
    setObjectName(name);
    setWordWrap(true);
    setTextFormat(Qt::PlainText);
    setTextInteractionFlags(Qt::TextSelectableByMouse);
    hide();
}

void ProblemLine::showWords(const QString& words)
{
    m_words = words;
    setText(words.isEmpty() ? words : QStringLiteral("\u26A0 ") + words);
    setAccessibleName(words);
    setVisible(!words.isEmpty());
}

} // namespace quoin::ui
