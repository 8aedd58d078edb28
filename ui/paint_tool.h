// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/view_tool.h"

#include <optional>
#include <vector>

namespace quoin::ui {

/// Marking places that no cut may pass, by a brush on the surface or by filling a smooth patch up to its creases.
class PaintTool : public ViewTool {
    Q_OBJECT
public:
    enum class Mode { Brush, Fill };
    static constexpr double leastRadiusMm = 0.1, mostRadiusMm = 2000;

    using ViewTool::ViewTool;

    double radiusMm() const { return m_radiusMm; }
    void setRadiusMm(double radiusMm);
    Mode mode() const { return m_mode; }
    void setMode(Mode mode);
    /// Whether strokes mark (true) or take marks away; Shift or Alt at the press does the opposite.
    bool marking() const { return m_marking; }
    void setMarking(bool marking);

    QCursor cursor() const override { return Qt::CrossCursor; }
    QString hint() const override;
    bool pressed(const ToolEvent& event) override;
    void dragged(const ToolEvent& event) override;
    void released(const ToolEvent& event) override;
    void hovered(const ToolEvent& event) override;
    void left() override;
    bool wheeled(const ToolEvent& event, double notches) override;
    bool keyPressed(QKeyEvent& event) override;
    void paint(QPainter& painter, const OrbitCamera& camera) const override;

signals:
    /// While dragging: what has come to the stroke since the last time.
    void strokeGrown(const std::vector<quoin::mesh::Index>& added, bool mark, std::size_t body);
    /// At release: the whole stroke, rising; triangles of the pick body's mesh.
    void stroke(const std::vector<quoin::mesh::Index>& triangles, bool mark, std::size_t body);
    void radiusChanged(double radiusMm);
    void modeChanged(quoin::ui::PaintTool::Mode mode);
    void markingChanged(bool marking);
    /// Why a press did nothing.
    void refused(const QString& why);

private:
    bool begin(ScreenPoint at, Qt::KeyboardModifiers modifiers);
    void addAt(ScreenPoint at);
    void finish();
    void changed();

    double m_radiusMm = 10;
    Mode m_mode = Mode::Brush;
    bool m_marking = true;

    struct Stroke {
        std::size_t body = 0;
        bool mark = true;
        std::vector<mesh::Index> triangles;
        std::vector<bool> taken; ///< by triangle
        ScreenPoint last;
    };
    std::optional<Stroke> m_stroke;
    std::optional<ViewHit> m_hover;
    bool m_opposite = false; ///< the key for the opposite is held
};

} // namespace quoin::ui
