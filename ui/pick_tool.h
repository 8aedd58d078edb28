// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/view_tool.h"

#include <vector>

namespace quoin::ui {

/// Picking a number of places on the model, for something that is made from them.
class PickTool : public ViewTool {
    Q_OBJECT
public:
    /// @param words  what the picks are for: "three points that the cut passes"
    PickTool(std::size_t wanted, QString words, QObject* parent);

    QCursor cursor() const override { return Qt::CrossCursor; }
    QString hint() const override;
    void clicked(const ToolEvent& event) override;
    bool keyPressed(QKeyEvent& event) override;
    void paint(QPainter& painter, const OrbitCamera& camera) const override;

signals:
    void finished(const std::vector<quoin::ui::ViewHit>& hits);
    void givenUp();

private:
    std::size_t m_wanted;
    QString m_words;
    std::vector<ViewHit> m_hits;
};

} // namespace quoin::ui
