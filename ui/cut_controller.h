// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/cut_section.h"
#include "core/flat_areas.h"
#include "ui/bench.h"
#include "ui/cuts_panel.h"

#include <QTimer>

#include <optional>

namespace quoin::ui {

class CutTool;
class PickTool;
class ViewController;
struct CutSnaps;

/// Cuts: the list and its numbers, the handle in the view, the section that follows the pointer, new cuts, and edits
/// of the list.
class CutController : public QObject {
    Q_OBJECT
public:
    CutController(Bench& bench, CutsPanel& panel, ViewController& view, QObject* parent);

    CutTool& tool() { return *m_tool; }
    void add(CutKind kind, bool wholePart);
    void removeSelected();
    /// A cut of the selected piece alone, across its longest side.
    void addAcrossLongest();
    /// Whether places are being picked for a new cut.
    bool picking() const { return m_pick != nullptr; }

private:
    void connectPanel();
    void connectTool();
    void showRows();
    void showHandle();
    void showSnaps();
    // By value: what the panel hands over changes when it hears of it.
    void live(int cut, mesh::Plane plane);
    void finish(int cut, mesh::Plane plane, const QString& mergeKey);
    void askSection(int cut, const mesh::Plane& plane);
    void takeSection(int cut, const mesh::Plane& plane);
    void askFlats();
    void addPlane(const mesh::Plane& plane, bool wholePart);
    void pick(CutKind kind, bool wholePart);
    void move(int cut, int by);
    /// Bounds that a new cut goes through the middle of: the selected piece's, or the part's. The part's frame.
    mesh::Box3 targetBox(bool wholePart) const;
    std::vector<core::CutSide> sidesOfSelection(bool wholePart) const;
    std::vector<CutRow> rows(const core::PartDesign& part) const;
    mesh::Plane toScene(const mesh::Plane& plane) const;
    mesh::Plane toPart(const mesh::Plane& plane) const;

    Bench& m_bench;
    CutsPanel& m_panel;
    ViewController& m_view;
    CutTool* m_tool;
    Latest m_section, m_flats;
    mesh::MeshPtr m_flatsOf;
    std::vector<core::FlatArea> m_flatAreas;
    std::unique_ptr<PickTool> m_pick;
    bool m_dragging = false;
    QTimer m_sectionRest; ///< after each section as long as it took, so that the view gets its share of the machine
    std::optional<std::pair<int, mesh::Plane>> m_sectionNext; ///< asked for meanwhile
    mesh::Plane m_sectionPlane;
    mesh::MeshPtr m_sectionOf;
    int m_sectionCut = 0;
};

} // namespace quoin::ui
