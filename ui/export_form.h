// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/export_design.h"

#include <QWidget>

#include <set>
#include <vector>

class QCheckBox;
class QLabel;
class QLineEdit;
class QPushButton;
class QTreeWidget;
class QTreeWidgetItem;

namespace quoin::ui {

/// What the user wants exported.
struct ExportWish {
    QString folder;         ///< absolute
    std::vector<int> parts; ///< PartDesign::id
    bool replace = false;   ///< an earlier export in the folder
    bool pictures = true;
    bool evenIfUnproved = false;
};

/// A folder for an export: beside the design when it is saved, else in the user's documents; named after it.
/// @param designFile  may be empty
QString usualExportFolder(const QString& designFile, const QString& name);

/// What comes before an export: which parts, where to, what will be written, and why it can't be begun.
class ExportForm : public QWidget {
    Q_OBJECT
public:
    explicit ExportForm(QWidget* parent = nullptr);

    /// Parts as they stand now; ticks stay as the user has set them. What can't be exported can't be ticked.
    void setParts(const std::vector<core::PartReadiness>& parts);
    /// Shown until the user has chosen another.
    void setUsualFolder(const QString& folder);
    ExportWish wish() const;
    /// Why the export can't be begun now; empty when it can.
    QString whyNot() const;

signals:
    void exportWanted(const quoin::ui::ExportWish& wish);

protected:
    void showEvent(QShowEvent* event) override;

private:
    QWidget* makeFolderRow();
    void makeOptions();
    void fill(QTreeWidgetItem& line, const core::PartReadiness& part);
    void chooseFolder();
    void refresh();
    QString whatIsWritten() const;
    QString trouble(const QString& folder) const;

    std::vector<core::PartReadiness> m_parts;
    std::set<int> m_unticked; ///< by the user
    QString m_usualFolder;
    bool m_filling = false;

    QTreeWidget* m_list;
    QLineEdit* m_folder;
    QCheckBox* m_replace;
    QCheckBox* m_pictures;
    QCheckBox* m_unproved;
    QLabel* m_written;
    QLabel* m_reason;
    QPushButton* m_start;
};

} // namespace quoin::ui
