// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/file_controller.h"

#include "sample_models/heron.h"
#include "ui/own_fits.h"
#include "ui/window_words.h"

#include <QEventLoop>
#include <QFileDialog>
#include <QFileInfo>
#include <QMessageBox>
#include <QPushButton>
#include <QStandardPaths>
#include <QWidget>

#include <algorithm>

namespace quoin::ui {

namespace {

constexpr const char* modelFilter = "*.stl *.3mf *.obj *.ply *.off";
/// How much larger the sample is to be made.
constexpr double heronScale = 7;

std::filesystem::path pathOf(const QString& file)
{
    return std::filesystem::path(file.toStdString());
}

bool isDesign(const QString& file)
{
    return QFileInfo(file).isDir() || file.endsWith(QStringLiteral(".json"), Qt::CaseInsensitive);
}

/// What a first design is fitted to: the first bed of the user's own, else one of a usual size.
core::Bed usualBed()
{
    const auto own = core::BedShelf(core::BedShelf::defaultFile()).own();
    if (own && !own->empty())
        return own->front();
    const std::vector<core::Bed> shipped = core::shippedBeds();
    const auto usual =
        std::find_if(shipped.begin(), shipped.end(), [](const core::Bed& bed) { return bed.name == "220x220x250"; });
    return usual != shipped.end() ? *usual : shipped.front();
}

QString usualFolder()
{
    return QStandardPaths::writableLocation(QStandardPaths::DocumentsLocation);
}

} // namespace

FileController::FileController(Bench& bench, QWidget* window)
    : QObject(window),
      m_bench(bench),
      m_window(window),
      m_recent(core::RecentFiles::defaultFile()),
      m_keeper(std::make_shared<core::MeshKeeper>()),
      m_recovery(core::RecoveryShelf::defaultFolder()),
      m_keeping(bench.jobs())
{
    m_keepSoon.setSingleShot(true);
    m_keepSoon.setInterval(usualKeepEveryMs);
    connect(&m_keepSoon, &QTimer::timeout, this, &FileController::keepCopy);
    connect(&bench.document(), &Document::designChanged, this, [this] {
        m_unkept = true;
        if (!m_keepSoon.isActive())
            m_keepSoon.start();
    });
}

FileController::~FileController() = default;

void FileController::open(const QStringList& files)
{
    for (const QString& file : files)
        if (isDesign(file)) {
            if (mayReplace())
                openDesign(file);
        } else
            addModel(file);
}

void FileController::askAndOpen()
{
    const QString file = QFileDialog::getOpenFileName(
        m_window, tr("Open"), usualFolder(),
        tr("Designs and models (*.quoin.json %1);;Designs (*.quoin.json);;Models (%1);;All files (*)")
            .arg(QString::fromLatin1(modelFilter)));
    if (!file.isEmpty())
        open({file});
}

void FileController::askAndAdd()
{
    const QStringList files =
        QFileDialog::getOpenFileNames(m_window, tr("Add parts"), usualFolder(),
                                      tr("Models (%1);;All files (*)").arg(QString::fromLatin1(modelFilter)));
    for (const QString& file : files)
        addModel(file);
}

void FileController::addModel(const QString& file, bool repair)
{
    m_bench.jobs().start<Result<core::LoadedModel>>(
        tr("Reading %1").arg(QFileInfo(file).fileName()),
        [path = pathOf(file), repair](const Context& context) { return core::loadModel(path, {}, repair, context); },
        this,
        [this, file, repair](Result<core::LoadedModel> loaded) {
            if (loaded)
                addLoaded(std::move(*loaded), file);
            else if (!repair && loaded.problem().reason >= Reason::NotClosed &&
                     loaded.problem().reason <= Reason::NoVolume)
                askRepair(file, loaded.problem());
            else
                m_bench.refuse(loaded.problem());
        });
}

void FileController::askRepair(const QString& file, const Problem& problem)
{
    Problem told = problem;
    told.remedy.clear(); // the box is the remedy
    auto* box = new QMessageBox(QMessageBox::Warning, tr("Mend the model?"),
                                tr("%1 can't be cut as it is.").arg(QFileInfo(file).fileName()), QMessageBox::NoButton,
                                m_window);
    box->setAttribute(Qt::WA_DeleteOnClose);
    box->setObjectName(QStringLiteral("askRepair"));
    box->setInformativeText(
        tr("%1\n\nMending closes holes, parts what touches and unites what overlaps. What was done is listed; the file "
           "itself stays as it is.")
            .arg(windowWords(told.sentence())));
    QPushButton* mend = box->addButton(tr("&Mend it"), QMessageBox::AcceptRole);
    box->addButton(tr("&Leave it"), QMessageBox::RejectRole);
    box->setDefaultButton(mend);
    connect(mend, &QPushButton::clicked, this, [this, file] { addModel(file, true); });
    box->open();
}

void FileController::addLoaded(core::LoadedModel loaded, const QString& file)
{
    for (const Note& note : loaded.notes)
        m_bench.say(note.severity, QString::fromStdString(note.text));
    m_bench.setHealth(loaded.part.source, std::move(loaded.health));
    int id = 0;
    const QString name = QString::fromStdString(loaded.part.name);
    core::Design design = core::withPart(m_bench.design(), core::withFits(loaded.part, ownFits(m_bench)), &id);
    if (design.beds.empty())
        design.beds = {usualBed()};
    m_bench.document().edit(tr("Add %1").arg(name), std::move(design));
    m_bench.look([id](ViewState& state) {
        state.part = id;
        state.cut = 0;
        state.pieces.clear();
    });
    noteRecent(file);
    emit opened();
}

void FileController::openHeron()
{
    if (!mayReplace())
        return;
    m_bench.jobs().start<core::Design>(
        tr("Making the heron"),
        [](const Context&) {
            core::Design design;
            design.beds = {{"300x300x400", core::Bed::Shape::Rectangular, 300, 300, 400, 1}};
            for (const samples::HeronPart& small : samples::heronParts()) {
                core::PartDesign part;
                part.name = small.name;
                part.sourceFile = "the heron sample";
                part.quantity = small.quantity;
                part.source = std::make_shared<const mesh::Mesh>(small.mesh);
                part.scale = heronScale;
                part.places = small.poses;
                design = core::withPart(design, std::move(part));
            }
            return design;
        },
        this,
        [this](core::Design design) {
            const int first = design.parts.front().id;
            m_bench.document().reset(core::withFits(design, ownFits(m_bench)), {});
            m_bench.look([first](ViewState& state) {
                const ViewState fresh;
                state.part = first;
                state.cut = 0;
                state.pieces.clear();
                state.explode = fresh.explode;
                state.preview.reset();
            });
            emit opened();
        });
}

void FileController::startNew()
{
    if (!mayReplace())
        return;
    m_bench.document().reset({}, {});
}

void FileController::openDesign(const QString& file)
{
    m_bench.jobs().start<Result<core::OpenedDesign>>(
        tr("Opening %1").arg(QFileInfo(file).fileName()),
        [path = pathOf(file), keeper = m_keeper](const Context& context) {
            return core::openDesign(path, *keeper, {}, context);
        },
        this,
        [this, file](Result<core::OpenedDesign> opened) {
            if (!opened) {
                m_bench.refuse(opened.problem());
                return;
            }
            const QString kept = QString::fromStdString(opened->file.string());
            adopt(std::move(*opened), kept);
            noteRecent(file);
        });
}

void FileController::adopt(core::OpenedDesign opened, const QString& file)
{
    for (const Note& note : opened.notes)
        m_bench.say(note.severity, QString::fromStdString(note.text));
    const int first = opened.design.parts.empty() ? 0 : opened.design.parts.front().id;
    m_bench.document().reset(std::move(opened.design), file);
    m_bench.look([first](ViewState& state) {
        state.part = first;
        state.cut = 0;
        state.pieces.clear();
        state.preview.reset();
    });
    emit this->opened();
}

bool FileController::save()
{
    return m_bench.document().file().isEmpty() ? saveAs() : saveTo(m_bench.document().file());
}

bool FileController::saveAs()
{
    QString start = m_bench.document().file();
    if (start.isEmpty())
        start = usualFolder() + QStringLiteral("/%1.quoin.json")
                                    .arg(m_bench.design().parts.size() == 1
                                             ? QString::fromStdString(m_bench.design().parts.front().name)
                                             : tr("sculpture"));
    const QString file =
        QFileDialog::getSaveFileName(m_window, tr("Save the design"), start, tr("Designs (*.quoin.json)"));
    return !file.isEmpty() && saveTo(QString::fromStdString(core::withDesignSuffix(pathOf(file)).string()));
}

bool FileController::saveTo(const QString& file)
{
    // Saved in the background, waited for with the window alive: closing must know whether it went well.
    QEventLoop wait;
    std::optional<Status> outcome;
    const int index = m_bench.document().history().index();
    m_bench.jobs().start<Status>(
        tr("Saving %1").arg(QFileInfo(file).fileName()),
        [design = m_bench.design(), path = pathOf(file), keeper = m_keeper](const Context& context) {
            return core::saveDesign(design, path, *keeper, context);
        },
        &wait,
        [&](Status status) {
            outcome = std::move(status);
            wait.quit();
        });
    wait.exec(QEventLoop::ExcludeUserInputEvents);
    if (!outcome || !outcome->ok()) {
        if (outcome)
            m_bench.refuse(outcome->problem());
        return false;
    }
    if (m_bench.document().history().index() == index)
        m_bench.document().saved(file);
    noteRecent(file);
    m_bench.say(Note::Severity::Info, tr("saved as %1").arg(file));
    return true;
}

bool FileController::mayReplace()
{
    return m_bench.design().parts.empty() || mayClose();
}

bool FileController::mayClose()
{
    if (!m_bench.document().modified())
        return true;
    QMessageBox box(QMessageBox::Question, tr("Save the changes?"),
                    tr("%1 has changes that are not saved.").arg(m_bench.document().title()),
                    QMessageBox::Save | QMessageBox::Discard | QMessageBox::Cancel, m_window);
    box.setObjectName(QStringLiteral("askSave"));
    box.setDefaultButton(QMessageBox::Save);
    box.button(QMessageBox::Discard)->setText(tr("&Don't save"));
    switch (box.exec()) {
    case QMessageBox::Save:
        return save();
    case QMessageBox::Discard:
        return true;
    default:
        return false;
    }
}

void FileController::closed()
{
    m_keepSoon.stop();
    m_keeping.drop();
    if (const Status s = m_recovery.close(); !s)
        m_bench.refuse(s.problem());
}

void FileController::keepCopy()
{
    m_keepSoon.stop();
    if (!m_unkept || m_bench.design().parts.empty())
        return;
    m_unkept = false;
    m_keeping.ask<Status>(
        tr("Keeping a copy"),
        [this, design = m_bench.design(), file = pathOf(m_bench.document().file())](const Context& context) {
            return m_recovery.save(design, file, context);
        },
        [this](Status status) {
            if (!status && status.problem().reason != Reason::Cancelled) {
                m_bench.say(Note::Severity::Warning, tr("no copy could be kept against a crash: %1")
                                                         .arg(QString::fromStdString(status.problem().sentence())));
                m_unkept = true;
            }
        },
        true);
}

void FileController::recover(const core::LostSession& session)
{
    if (!mayReplace())
        return;
    m_bench.jobs().start<Result<core::OpenedDesign>>(
        tr("Recovering"), [this, session](const Context& context) { return m_recovery.open(session, {}, context); },
        this,
        [this, session](Result<core::OpenedDesign> opened) {
            if (!opened) {
                m_bench.refuse(opened.problem());
                return;
            }
            // Recovered work is changed work: it asks to be saved.
            core::Design design = opened->design;
            const QString file = QString::fromStdString(session.originalFile.string());
            opened->design = {};
            adopt(std::move(*opened), file);
            m_bench.document().edit(tr("Recover the lost session"), core::withBoxes(std::move(design)));
            m_bench.say(Note::Severity::Info,
                        tr("recovered: %1, as of %2")
                            .arg(QString::fromStdString(session.words), QString::fromStdString(session.savedAt)));
            keepCopy();
            discard(session);
        });
}

void FileController::discard(const core::LostSession& session)
{
    if (const Status s = m_recovery.discard(session); !s)
        m_bench.refuse(s.problem());
    emit recoveryChanged();
}

void FileController::noteRecent(const QString& file)
{
    // Waits for the disk, so in the background; one after another, as each reads what the last has written.
    m_bench.jobs().start<Status>(
        tr("Noting %1").arg(QFileInfo(file).fileName()),
        [recent = m_recent, writing = m_noting, path = pathOf(QFileInfo(file).absoluteFilePath())](const Context&) {
            const std::lock_guard lock(*writing);
            return recent.add(path);
        },
        this,
        [this](Status status) {
            if (!status)
                m_bench.refuse(status.problem());
            emit recentChanged();
        },
        true);
}

void FileController::forgetRecent(const QString& file)
{
    if (const Status s = m_recent.remove(pathOf(file)); !s)
        m_bench.refuse(s.problem());
    emit recentChanged();
}

} // namespace quoin::ui
