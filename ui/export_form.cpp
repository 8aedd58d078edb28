// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/export_form.h"

#include "mesh/place.h"
#include "ui/verdict_delegate.h"

#include <QCheckBox>
#include <QDir>
#include <QFileDialog>
#include <QFileInfo>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QSignalBlocker>
#include <QStandardPaths>
#include <QTreeWidget>
#include <QVBoxLayout>

#include <algorithm>

namespace quoin::ui {

namespace {

enum Column { Name, Pieces, Fits, Joints, State };
constexpr int idRole = Qt::UserRole, readyRole = Qt::UserRole + 1;
constexpr int mostShownLines = 8;

QString counted(std::size_t count, const char* one)
{
    return QString::fromStdString(mesh::counted(count, one));
}

QString jointWords(const core::PartReadiness& part)
{
    if (part.seams == 0)
        return ExportForm::tr("no seams");
    QString words = counted(part.joints, "joint") + ExportForm::tr(" at ") + counted(part.seams, "seam");
    if (part.plainSeams > 0)
        words += ExportForm::tr(", %1 of them plain").arg(part.plainSeams);
    return words;
}

std::filesystem::path pathOf(const QString& text)
{
    return QFile::encodeName(text).toStdString();
}

/// As people type it: "~" is the home folder, and what is relative begins there too.
QString absoluteFolder(QString text)
{
    text = text.trimmed();
    if (text.isEmpty())
        return {};
    if (text == "~" || text.startsWith("~/"))
        text = QDir::homePath() + text.mid(1);
    return QDir::cleanPath(QDir::isAbsolutePath(text) ? text : QDir::home().filePath(text));
}

} // namespace

QString usualExportFolder(const QString& designFile, const QString& name)
{
    const QString folder = designFile.isEmpty() ? QStandardPaths::writableLocation(QStandardPaths::DocumentsLocation)
                                                : QFileInfo(designFile).absolutePath();
    QString plain = name;
    plain.replace('/', '-');
    return QDir(folder).filePath((plain.trimmed().isEmpty() ? ExportForm::tr("sculpture") : plain.trimmed()) +
                                 ExportForm::tr(" pieces"));
}

ExportForm::ExportForm(QWidget* parent) : QWidget(parent)
{
    auto* layout = new QVBoxLayout(this);
    m_list = new QTreeWidget(this);
    m_list->setHeaderLabels({tr("Part"), tr("Pieces"), tr("On the beds"), tr("Joints"), tr("Can be exported")});
    m_list->setRootIsDecorated(false);
    m_list->setUniformRowHeights(true);
    m_list->setAlternatingRowColors(true);
    m_list->header()->setSectionResizeMode(QHeaderView::ResizeToContents);
    m_list->setItemDelegateForColumn(State, new VerdictDelegate(readyRole, false, m_list));
    m_list->setAccessibleName(tr("Parts to export"));
    auto* title = new QLabel(tr("&Parts to export"), this);
    title->setBuddy(m_list);
    layout->addWidget(title);
    layout->addWidget(m_list, 1);
    layout->addWidget(makeFolderRow());
    makeOptions();
    for (QCheckBox* box : {m_replace, m_pictures, m_unproved})
        layout->addWidget(box);
    m_written = new QLabel(this);
    m_written->setWordWrap(true);
    m_written->setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Preferred); // a long path mustn't widen the window
    m_written->setTextFormat(Qt::PlainText);
    m_written->setTextInteractionFlags(Qt::TextSelectableByMouse);
    layout->addWidget(m_written);

    auto* last = new QHBoxLayout;
    m_reason = new QLabel(this);
    m_reason->setWordWrap(true);
    m_reason->setTextFormat(Qt::PlainText);
    last->addWidget(m_reason, 1);
    m_start = new QPushButton(tr("E&xport and prove"), this);
    m_start->setDefault(true);
    last->addWidget(m_start, 0, Qt::AlignBottom);
    layout->addLayout(last);

    connect(m_start, &QPushButton::clicked, this, [this] { emit exportWanted(wish()); });
    connect(m_list, &QTreeWidget::itemChanged, this, [this](QTreeWidgetItem* line, int column) {
        if (m_filling || column != Name)
            return;
        const int id = line->data(Name, idRole).toInt();
        line->checkState(Name) == Qt::Checked ? m_unticked.erase(id) != 0 : m_unticked.insert(id).second;
        refresh();
    });
    refresh();
}

QWidget* ExportForm::makeFolderRow()
{
    auto* row = new QWidget(this);
    auto* layout = new QHBoxLayout(row);
    layout->setContentsMargins(0, 0, 0, 0);
    m_folder = new QLineEdit(row);
    m_folder->setToolTip(tr("The folder that the pieces, lists, pictures and the proof are written to. It is made if "
                            "it isn't there."));
    auto* label = new QLabel(tr("&Write to folder"), row);
    label->setBuddy(m_folder);
    auto* choose = new QPushButton(tr("Ch&oose…"), row);
    choose->setObjectName("choose");
    choose->setToolTip(tr("Choose a folder"));
    layout->addWidget(label);
    layout->addWidget(m_folder, 1);
    layout->addWidget(choose);
    connect(choose, &QPushButton::clicked, this, &ExportForm::chooseFolder);
    connect(m_folder, &QLineEdit::textChanged, this, &ExportForm::refresh);
    return row;
}

void ExportForm::makeOptions()
{
    m_replace = new QCheckBox(tr("&Replace an earlier export there"), this);
    m_replace->setToolTip(tr("Files that an export wrote are replaced once the new ones are proved. Anything else in "
                             "the folder stays."));
    m_pictures = new QCheckBox(tr("Draw p&ictures: assembled, and parted"), this);
    m_pictures->setToolTip(tr("Two pictures, also shown on the page of the proof"));
    m_pictures->setChecked(true);
    m_unproved = new QCheckBox(tr("Write it even if a claim of the proof fai&ls"), this);
    m_unproved->setToolTip(tr("Otherwise a failed claim stops the export and nothing is written. The proof in the "
                              "folder says what failed."));
    for (QCheckBox* box : {m_replace, m_pictures, m_unproved})
        connect(box, &QCheckBox::toggled, this, &ExportForm::refresh);
}

void ExportForm::fill(QTreeWidgetItem& line, const core::PartReadiness& part)
{
    const bool known = part.pieces > 0;
    const QString why = QString::fromStdString(part.whyNot);
    line.setText(Name, QString::fromStdString(part.name));
    line.setText(Pieces, known ? QString::number(part.pieces) : "–");
    line.setText(Fits, !known ? "–" : part.fits ? tr("all fit") : tr("not all fit"));
    line.setText(Joints, known ? jointWords(part) : "–");
    line.setText(State, part.ready() ? tr("✓ yes") : tr("✗ no: %1").arg(why));
    line.setData(State, readyRole, part.ready());
    line.setData(Name, idRole, part.part);
    line.setFlags(Qt::ItemIsSelectable | Qt::ItemIsEnabled |
                  (part.ready() ? Qt::ItemIsUserCheckable : Qt::NoItemFlags));
    if (part.ready())
        line.setCheckState(Name, m_unticked.contains(part.part) ? Qt::Unchecked : Qt::Checked);
    else
        line.setData(Name, Qt::CheckStateRole, {}); // nothing to tick
    for (int column = Name; column <= State; ++column)
        line.setToolTip(column, part.ready() ? tr("Untick to leave this part out") : tr("Can't be exported: ") + why);
}

void ExportForm::setParts(const std::vector<core::PartReadiness>& parts)
{
    m_parts = parts;
    m_filling = true;
    while (m_list->topLevelItemCount() > static_cast<int>(parts.size()))
        delete m_list->takeTopLevelItem(m_list->topLevelItemCount() - 1);
    for (std::size_t i = 0; i < parts.size(); ++i) {
        if (m_list->topLevelItemCount() == static_cast<int>(i))
            new QTreeWidgetItem(m_list);
        fill(*m_list->topLevelItem(static_cast<int>(i)), parts[i]);
    }
    m_filling = false;
    refresh();
}

void ExportForm::setUsualFolder(const QString& folder)
{
    if (m_folder->text().isEmpty() || m_folder->text() == m_usualFolder)
        m_folder->setText(folder);
    m_usualFolder = folder;
}

ExportWish ExportForm::wish() const
{
    ExportWish wish{
        absoluteFolder(m_folder->text()), {}, m_replace->isChecked(), m_pictures->isChecked(), m_unproved->isChecked()};
    for (const core::PartReadiness& part : m_parts)
        if (part.ready() && !m_unticked.contains(part.part))
            wish.parts.push_back(part.part);
    return wish;
}

/// Parts' folders are told apart by name alone, as core::exportFolders does with a design.
static std::vector<std::filesystem::path> foldersOf(const std::vector<core::PartReadiness>& parts,
                                                    const ExportWish& wish)
{
    core::Design names;
    for (const core::PartReadiness& part : parts) {
        names.parts.emplace_back();
        names.parts.back().id = part.part;
        names.parts.back().name = part.name;
    }
    return wish.parts.empty() ? std::vector<std::filesystem::path>{}
                              : core::exportFolders(names, wish.parts, pathOf(wish.folder));
}

QString ExportForm::trouble(const QString& folder) const
{
    if (folder.isEmpty())
        return tr("Name the folder to write to.");
    for (const std::filesystem::path& each : foldersOf(m_parts, wish())) {
        if (core::mayExport(each, m_replace->isChecked()).ok())
            continue;
        const QString where = QFile::decodeName(each.c_str());
        if (!m_replace->isChecked() && core::mayExport(each, true).ok())
            return tr("An earlier export is in %1. Tick “Replace an earlier export there”, or choose another folder.")
                .arg(where);
        return tr("Something other than an export is in %1. Choose another folder.").arg(where);
    }
    return {};
}

QString ExportForm::whyNot() const
{
    if (m_parts.empty())
        return tr("There is no part yet: open a model first.");
    if (std::none_of(m_parts.begin(), m_parts.end(), [](const auto& p) { return p.ready(); }))
        return m_parts.size() == 1
                   ? tr("The part can't be exported yet: %1.").arg(QString::fromStdString(m_parts[0].whyNot))
                   : tr("No part can be exported yet; the list says why.");
    const ExportWish w = wish();
    return w.parts.empty() ? tr("Tick a part to export.") : trouble(w.folder);
}

QString ExportForm::whatIsWritten() const
{
    const ExportWish w = wish();
    if (w.parts.empty() || w.folder.isEmpty())
        return {};
    const auto folders = foldersOf(m_parts, w);
    QString text =
        tr("Written for each part: its pieces and loose parts as STL and all of them as one 3MF, a list of them "
           "(CSV and JSON), %1the proof as a page and as JSON.")
            .arg(w.pictures ? tr("two pictures, ") : QString());
    for (std::size_t i = 0; i < folders.size() && i < mostShownLines; ++i)
        text += "\n→ " + QDir::toNativeSeparators(QFile::decodeName(folders[i].c_str()));
    if (folders.size() > mostShownLines)
        text += tr("\nand %1 more").arg(folders.size() - mostShownLines);
    QStringList out;
    for (const core::PartReadiness& part : m_parts)
        if (std::find(w.parts.begin(), w.parts.end(), part.part) == w.parts.end())
            out << QString::fromStdString(part.ready() ? part.name : part.name + " (" + part.whyNot + ")");
    if (!out.isEmpty())
        text += tr("\nLeft out: %1").arg(out.join(", "));
    return text;
}

void ExportForm::refresh()
{
    const QString why = whyNot();
    m_written->setText(whatIsWritten());
    m_start->setEnabled(why.isEmpty());
    m_start->setToolTip(why.isEmpty() ? tr("Writes the files, reads them back and proves them") : why);
    m_reason->setText(why);
}

void ExportForm::showEvent(QShowEvent* event)
{
    QWidget::showEvent(event);
    refresh(); // the disk may have changed
}

void ExportForm::chooseFolder()
{
    QString start = absoluteFolder(m_folder->text());
    while (!start.isEmpty() && !QFileInfo(start).isDir() && start != QFileInfo(start).path())
        start = QFileInfo(start).path();
    const QString chosen = QFileDialog::getExistingDirectory(this, tr("Folder for the export"), start);
    if (chosen.isEmpty())
        return;
    // A folder of other things is where a folder for the export shall be.
    const bool usable = core::mayExport(pathOf(chosen), true).ok();
    const QString name = QFileInfo(m_usualFolder).fileName();
    m_folder->setText(usable || name.isEmpty() ? chosen : QDir(chosen).filePath(name));
}

} // namespace quoin::ui
