// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/bench.h"

namespace quoin::ui {

class PartsPanel;
class PiecesPanel;
class ScalePanel;

/// Keeps the lists of parts and pieces and the scale panel in step with the document, and makes their wishes edits.
class PartController : public QObject {
    Q_OBJECT
public:
    PartController(Bench& bench, PartsPanel& parts, ScalePanel& scale, PiecesPanel& pieces, QObject* parent);

    /// Reads the current part's file in another unit.
    void setUnit(mesh::Unit unit);
    void duplicate(int part);
    void remove(int part);

signals:
    void addWanted();

private:
    void connectParts();
    void connectScale();
    void connectPieces();
    void showParts();
    void showScale();
    void showPieces();
    void setScale(double factor);
    /// Of the sculpture that all parts make in their places, mm, at a scale of 1; none when they don't make one.
    std::optional<mesh::Vec3> wholeExtents(const core::PartDesign& current);
    void findLargest(int bed);
    /// An edit of one part by its id.
    void change(int part, const QString& name, const std::function<void(core::PartDesign&)>& edit,
                const QString& mergeKey = {});

    Bench& m_bench;
    PartsPanel& m_parts;
    ScalePanel& m_scale;
    PiecesPanel& m_pieces;
    Latest m_largest, m_unit;
    int m_scaleSubject = 0;
    using Body = std::pair<mesh::MeshPtr, std::array<double, 16>>;
    std::vector<Body> m_bodies; ///< that the extents were taken of
    mesh::Vec3 m_wholeExtents{0, 0, 0};
};

} // namespace quoin::ui
