// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDateTime>
#include <QFrame>
#include <QWidget>

#include <vector>

class QLabel;
class QMimeData;
class QPushButton;
class QVBoxLayout;

namespace quoin::ui {

/// A file that was open before.
struct RecentFile {
    QString path;
    QDateTime when;     ///< last opened
    QString whyMissing; ///< not empty: it can't be opened, and why
};

/// Work that was not saved when the program ended.
struct RecoveryOffer {
    QString id;   ///< given back in the signals
    QString text; ///< "heron, 12 cuts, from today 10:12"
};

/// Where files are dropped. Takes files of this machine only.
class DropArea : public QFrame {
    Q_OBJECT
public:
    explicit DropArea(QWidget* parent);
    static QStringList filesIn(const QMimeData& data);

signals:
    void dropped(const QStringList& paths);

protected:
    void dragEnterEvent(QDragEnterEvent* event) override;
    void dragLeaveEvent(QDragLeaveEvent* event) override;
    void dropEvent(QDropEvent* event) override;
    void paintEvent(QPaintEvent* event) override;

private:
    bool m_over = false;
};

/// Shown while nothing is open: what the program does, and the ways in.
class StartPage : public QWidget {
    Q_OBJECT
public:
    explicit StartPage(QWidget* parent = nullptr);
    void setRecent(const std::vector<RecentFile>& files);
    void setRecovery(const std::vector<RecoveryOffer>& offers);

signals:
    void openWanted();                          ///< a file dialog
    void filesWanted(const QStringList& paths); ///< dropped, or a recent one
    void forgetWanted(const QString& path);     ///< take it off the recent files
    void demoWanted();
    void recoverWanted(const QString& id);
    void discardWanted(const QString& id);

protected:
    void changeEvent(QEvent* event) override;

private:
    void colourPrimary();
    QWidget* buildWaysIn();
    QWidget* recentRow(const RecentFile& file);
    QWidget* recoveryRow(const RecoveryOffer& offer);

    QPushButton* m_demo = nullptr;
    QPushButton* m_open = nullptr;
    QWidget* m_recovery = nullptr;
    QVBoxLayout* m_recoveryRows = nullptr;
    QLabel* m_noRecent = nullptr;
    QVBoxLayout* m_recentRows = nullptr;
};

} // namespace quoin::ui
