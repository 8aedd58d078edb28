// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/export_design.h"
#include "ui/bench.h"
#include "ui/export_page.h"

#include <QPointer>

namespace quoin::ui {

/// Exports with their proof, from the page's wish to its verdict.
class ExportController : public QObject {
    Q_OBJECT
public:
    ExportController(Bench& bench, ExportPage& page, QObject* parent);

    bool running() const { return m_job; }
    /// Whether the last export of the design as it stands was proved; none: no export since it was changed.
    std::optional<bool> proved() const { return m_proved; }

signals:
    void started();
    void ended();

private:
    void showReadiness();
    void start(const ExportWish& wish);
    void done(Result<std::vector<core::ExportedPart>> outcome, const QString& folder);

    Bench& m_bench;
    ExportPage& m_page;
    QPointer<Job> m_job;
    std::optional<bool> m_proved;
    bool m_changed = false; ///< the design, since the export was begun
};

} // namespace quoin::ui
