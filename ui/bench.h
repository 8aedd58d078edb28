// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/health.h"
#include "mesh/result.h"
#include "ui/document.h"
#include "ui/jobs.h"
#include "ui/view_state.h"

#include <QObject>

#include <functional>
#include <map>
#include <optional>

namespace quoin::ui {

/// What all parts of the window work on together: the document, what the user looks at, the work in the background,
/// and the place to say things. The parts know the bench, not each other.
class Bench : public QObject {
    Q_OBJECT
public:
    explicit Bench(QObject* parent = nullptr);
    ~Bench() override;
    /// Stops all work and waits for it: before what the work holds on to goes away.
    void stop();

    Jobs& jobs() { return *m_jobs; }
    Document& document() { return *m_document; }
    const core::Design& design() const { return m_document->design(); }

    const ViewState& state() const { return m_state; }
    /// Changes what is looked at.
    void look(const std::function<void(ViewState&)>& change);

    /// The current part, or null.
    const core::PartDesign* part() const { return design().part(m_state.part); }
    PartWork* work() const { return m_document->work(m_state.part); }
    /// What has been worked out of the current part, as far as it stands for its newest cuts; or null.
    core::RealisedPtr realised() const;

    /// A line in the log; a warning is also shown beside the view.
    void say(Note::Severity severity, const QString& text);
    void refuse(const Problem& problem);

    /// What is known of a model's health; asked for in the background when it isn't known yet.
    const mesh::Health* healthOf(const core::PartDesign& part);
    void setHealth(const mesh::MeshPtr& source, mesh::Health health);

signals:
    /// What is looked at has changed in any way; comes with every move of a drag.
    void looked();
    /// Something has changed other than what follows the pointer (a dragged cut and its section, a scale being
    /// stepped, how far the pieces are apart). Comes before looked().
    void chosen();
    void said(quoin::Note::Severity severity, const QString& text);
    void healthKnown();

private:
    void followDesign();

    Jobs* m_jobs;
    Document* m_document;
    ViewState m_state;
    std::map<mesh::MeshPtr, std::optional<mesh::Health>> m_health; ///< nullopt: being found
};

} // namespace quoin::ui
