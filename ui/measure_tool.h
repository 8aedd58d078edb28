// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/measure.h"
#include "ui/round_fit.h"
#include "ui/view_tool.h"

#include <optional>
#include <vector>

namespace quoin::ui {

/// Measures on the model: picked points take corners and middles of edges near the pointer. Results stay as dimension
/// lines until they are cleared.
class MeasureTool : public ViewTool {
    Q_OBJECT
public:
    enum class Kind {
        Distance,    ///< two points
        Angle,       ///< a point, the corner, a point
        FaceAngle,   ///< two faces
        ThreePoints, ///< radius of the circle through three points
        Round        ///< radius of the round that the facets about one point make
    };
    struct Pick {
        mesh::Vec3 point{0, 0, 0}, normal{0, 0, 1};
        std::size_t body = 0;
        mesh::Index triangle = 0;
        std::optional<SnapPlace::Kind> snapped;
    };
    struct Result {
        Kind kind = Kind::Distance;
        std::vector<Pick> picks;
        std::optional<SpaceCircle> circle; ///< of both kinds of radius, scene frame
        QString text;                      ///< on the dimension line
    };

    using ViewTool::ViewTool;

    Kind kind() const { return m_kind; }
    /// Drops half-made picks; results stay.
    void setKind(Kind kind);
    const std::vector<Result>& results() const { return m_results; }
    const std::vector<Pick>& picks() const { return m_picks; }
    void clear();
    /// A body's shape or place has changed: measures on it may no longer be true.
    void bodiesChanged() { clear(); }
    /// Every result, a line each.
    QString allText() const;

    QCursor cursor() const override { return Qt::CrossCursor; }
    QString hint() const override;
    void hovered(const ToolEvent& event) override;
    void clicked(const ToolEvent& event) override;
    void left() override;
    bool keyPressed(QKeyEvent& event) override;
    void paint(QPainter& painter, const OrbitCamera& camera) const override;

signals:
    /// A new result in words, for the log and the clipboard.
    void measured(const QString& text);
    /// Why a pick gave nothing.
    void refused(const QString& why);
    void kindChanged(quoin::ui::MeasureTool::Kind kind);

private:
    std::optional<Pick> pickAt(ScreenPoint at) const;
    std::optional<Pick> snappedPick(const ViewHit& hit, ScreenPoint at) const;
    std::size_t wanted() const;
    void take(const std::optional<Pick>& pick);
    void finish();
    void refuse(const QString& why);
    std::optional<Result> roundResult(const Pick& pick);
    void paintResult(QPainter& painter, const OrbitCamera& camera, const Result& result) const;
    void paintPending(QPainter& painter, const OrbitCamera& camera) const;
    void changed();

    Kind m_kind = Kind::Distance;
    std::vector<Pick> m_picks;
    std::optional<Pick> m_hover;
    std::vector<Result> m_results;
    QString m_trouble;
};

} // namespace quoin::ui
