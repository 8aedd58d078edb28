// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/design_file.h"
#include "core/load_model.h"
#include "core/mesh_folder.h"
#include "core/recent_files.h"
#include "core/recovery.h"
#include "ui/bench.h"

#include <QStringList>
#include <QTimer>

#include <memory>
#include <mutex>

class QWidget;

namespace quoin::ui {

/// Opening, saving, keeping copies against a crash, and the list of recent files.
class FileController : public QObject {
    Q_OBJECT
public:
    FileController(Bench& bench, QWidget* window);
    ~FileController() override;

    /// Designs and exports replace what is open (after asking); models are added as parts.
    void open(const QStringList& files);
    void askAndOpen();
    void askAndAdd();
    void addModel(const QString& file, bool repair = false);
    /// The sample: a heron of our own, ready to be made large.
    void openHeron();
    void startNew();
    bool save(); ///< false when the user gave up or it failed at once
    bool saveAs();
    /// Asks about unsaved changes. Returns whether closing may go on.
    bool mayClose();
    /// Work is saved or given up: the copy kept against a crash goes.
    void closed();

    std::vector<core::LostSession> lostSessions() const { return m_recovery.lost(); }
    void recover(const core::LostSession& session);
    void discard(const core::LostSession& session);
    std::vector<core::RecentFile> recentFiles() const { return m_recent.list(); }
    void forgetRecent(const QString& file);
    /// Keeps a copy now, if anything changed since the last one.
    void keepCopy();
    /// Copies against a crash lag behind the last change by this at most (and by the time that one takes).
    static constexpr int usualKeepEveryMs = 8000;
    void setKeepEvery(int ms) { m_keepSoon.setInterval(ms); }
    int keepEvery() const { return m_keepSoon.interval(); }

signals:
    void recentChanged();
    void recoveryChanged();
    /// A model or a design has arrived.
    void opened();

private:
    void openDesign(const QString& file);
    void adopt(core::OpenedDesign opened, const QString& file);
    void addLoaded(core::LoadedModel loaded, const QString& file);
    void askRepair(const QString& file, const Problem& problem);
    bool saveTo(const QString& file);
    bool mayReplace();
    void noteRecent(const QString& file);

    Bench& m_bench;
    QWidget* m_window;
    core::RecentFiles m_recent;
    std::shared_ptr<std::mutex> m_noting = std::make_shared<std::mutex>();
    std::shared_ptr<core::MeshKeeper> m_keeper;
    core::RecoveryShelf m_recovery;
    Latest m_keeping;
    QTimer m_keepSoon;
    bool m_unkept = false; ///< changed since the last copy
};

} // namespace quoin::ui
