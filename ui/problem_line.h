// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QLabel>

namespace quoin::ui {

/// A line beside a field that says what is wrong with it; not there while all is well.
class ProblemLine : public QLabel {
    Q_OBJECT
public:
    ProblemLine(const char* name, QWidget* parent);
    void showWords(const QString& words);
    const QString& words() const { return m_words; }

private:
    QString m_words;
};

} // namespace quoin::ui
