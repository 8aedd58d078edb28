// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/jobs.h"
#include "ui/part_view.h"

#include <optional>

namespace quoin::ui {

/// Keeps one part's pieces up to date with its design, in the background. Asked anew while it works, it stops and
/// starts again with the newest design.
class PartWork : public QObject {
    Q_OBJECT
public:
    PartWork(Jobs& jobs, QObject* parent);

    /// What the part should look like now. Does nothing when nothing that matters has changed.
    void ask(const core::Design& design, const core::PartDesign& part);

    /// The newest that is there; may be of an earlier design. Null at first.
    const PartViewPtr& view() const { return m_view; }
    /// Null until the model has been prepared.
    const std::shared_ptr<const SourceView>& source() const { return m_source; }
    /// Whether view() is all there is to come for the newest design.
    bool upToDate() const { return !m_cutting.busy() && !m_problem; }
    bool busy() const { return m_cutting.busy(); }
    /// Why the newest design can't be worked out.
    const std::optional<Problem>& problem() const { return m_problem; }

signals:
    void changed();

private:
    void prepareSource(const core::PartDesign& part);
    void setView(PartViewPtr view);

    Latest m_cutting, m_preparing;
    core::Design m_asked; ///< beds and the one part, as asked for last
    mesh::MeshPtr m_sourceMesh;
    std::shared_ptr<const SourceView> m_source;
    PartViewPtr m_view;
    std::optional<Problem> m_problem;
};

} // namespace quoin::ui
