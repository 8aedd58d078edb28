// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/result.h"

#include <QLineEdit>
#include <QPointer>
#include <QTimer>

class QLabel;

namespace quoin::ui {

/// A field for one number with its unit. Typed text is taken over with Enter or on leaving the field; Escape brings
/// back the last good value; Up and Down step (with Shift coarsely, with Ctrl finely), the wheel too while the field
/// has the focus. What can't be understood stays in the field, with a mark in it and a message below it that says what
/// to type; the value stays the last good one then.
class NumberEdit : public QLineEdit {
    Q_OBJECT
public:
    double value() const { return m_value; }
    /// Shows a value without any signal. Text being typed is kept while the value is the same.
    void setValue(double value);
    /// What is refused, both ends allowed. @param why  added to the message: "the part is only that tall"
    void setRange(double least, double most, const QString& why = {});
    double least() const { return m_least; }
    double most() const { return m_most; }
    /// When set, steps land on whole multiples of it (and Up and Down move by it), 0: off.
    void setSnap(double snap) { m_snap = snap; }
    /// Why the text isn't taken; empty when all is well.
    QString problem() const { return m_problem; }
    /// The tooltip while there is no problem.
    void setHelp(const QString& help);

signals:
    /// A new value was taken over, or stepping has come to rest. Not emitted when the value is as it was.
    void edited(double value);
    /// While stepping.
    void liveEdited(double value);
    void problemChanged(const QString& problem);

protected:
    explicit NumberEdit(QWidget* parent);

    /// What text means; a problem's remedy says what to type.
    virtual Result<double> parsed(const QString& text) const = 0;
    virtual QString shown(double value) const = 0;
    /// A value in a message: usually as shown.
    virtual QString inWords(double value) const { return shown(value); }
    /// Up or Down without a modifier.
    virtual double plainStep() const = 0;
    virtual double coarseStep() const { return 10 * plainStep(); }
    virtual double fineStep() const { return plainStep() / 10; }

    void showValue();

    bool event(QEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    void wheelEvent(QWheelEvent* event) override;
    void focusInEvent(QFocusEvent* event) override;
    void focusOutEvent(QFocusEvent* event) override;
    void paintEvent(QPaintEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;
    void hideEvent(QHideEvent* event) override;
    QSize sizeHint() const override;

private:
    Result<double> checked(const QString& text) const;
    /// @return whether the text was taken (or needed no taking)
    bool commit();
    void step(int steps, Qt::KeyboardModifiers modifiers);
    void settle();
    void setProblem(const QString& problem);
    void placeMessage();
    void take(double value);

    double m_value = 0;
    double m_settled = 0; ///< the value last told by edited
    double m_least = -1e300, m_most = 1e300;
    QString m_why;
    double m_snap = 0;
    int m_wheel = 0; ///< eighths of a degree not yet used
    QString m_problem, m_help;
    QTimer m_rest;   ///< runs while stepping
    QTimer m_linger; ///< hides the message some time after the field was left
    QPointer<QLabel> m_message;
};

} // namespace quoin::ui
