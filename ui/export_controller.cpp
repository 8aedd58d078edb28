// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/export_controller.h"

#include "ui/picture.h"

#include <algorithm>

#include <QFileInfo>

namespace quoin::ui {

ExportController::ExportController(Bench& bench, ExportPage& page, QObject* parent)
    : QObject(parent), m_bench(bench), m_page(page)
{
    connect(&m_page, &ExportPage::exportWanted, this, &ExportController::start);
    connect(&m_page, &ExportPage::cancelWanted, this, [this] {
        if (m_job)
            m_job->cancel();
    });
    connect(&bench.document(), &Document::designChanged, this, [this] {
        m_proved.reset(); // that was of the design as it was
        m_changed = true;
        showReadiness();
    });
    connect(&bench.document(), &Document::workChanged, this, &ExportController::showReadiness);
    connect(&bench.document(), &Document::fileChanged, this, &ExportController::showReadiness);
    showReadiness();
}

void ExportController::showReadiness()
{
    std::vector<core::PartReadiness> parts;
    for (const core::PartDesign& part : m_bench.design().parts) {
        const PartWork* work = m_bench.document().work(part.id);
        // Work of an earlier design says nothing about this one.
        const bool current = work != nullptr && work->view() && !work->busy();
        core::PartReadiness ready = core::readiness(part, current ? work->view()->realised : nullptr);
        if (work != nullptr && work->problem())
            ready.whyNot = work->problem()->sentence();
        parts.push_back(std::move(ready));
    }
    m_page.form().setParts(parts);
    const QString& file = m_bench.document().file();
    const QString name = !file.isEmpty()     ? QFileInfo(file).fileName().remove(QStringLiteral(".quoin.json"))
                         : parts.size() == 1 ? QString::fromStdString(parts.front().name)
                                             : tr("sculpture");
    m_page.form().setUsualFolder(usualExportFolder(m_bench.document().file(), name));
}

void ExportController::start(const ExportWish& wish)
{
    if (m_job)
        return;
    core::DesignExportOptions options;
    options.parts = wish.parts;
    options.each.force = wish.replace;
    options.each.evenIfProofFails = wish.evenIfUnproved;
    if (wish.pictures)
        options.each.draw = drawPictures;
    for (const int id : wish.parts)
        if (const PartWork* work = m_bench.document().work(id); work != nullptr && work->view() && work->upToDate())
            options.known[id] = work->view()->realised;
    m_page.showRunning({});
    m_changed = false;
    using Outcome = Result<std::vector<core::ExportedPart>>;
    m_job = m_bench.jobs().startInStages<Outcome, QString>(
        tr("Exporting"),
        [design = m_bench.design(), folder = std::filesystem::path(wish.folder.toStdString()),
         options](const Context& context, const std::function<void(QString)>& hear) {
            core::DesignExportOptions told = options;
            auto printing = core::loadPrintSetup();
            if (!printing)
                return Outcome(printing.problem());
            told.each.printing = std::move(*printing);
            told.onPart = [&](std::size_t index, std::size_t count, const std::string& name) {
                hear(count == 1 ? QString::fromStdString(name)
                                : tr("%1, part %2 of %3").arg(QString::fromStdString(name)).arg(index + 1).arg(count));
            };
            return Outcome(core::exportDesign(design, folder, told, context));
        },
        this, [this](const QString& part) { m_page.showRunning(part); },
        [this, folder = wish.folder](Outcome outcome) { done(std::move(outcome), folder); });
    connect(m_job, &Job::progressed, this,
            [this](double fraction, const QString& stage) { m_page.setProgress(fraction, stage); });
    emit started();
}

void ExportController::done(Result<std::vector<core::ExportedPart>> outcome, const QString& folder)
{
    m_job.clear();
    if (!outcome) {
        m_page.showProblem(outcome.problem());
        m_bench.refuse(outcome.problem());
        emit ended();
        return;
    }
    std::vector<ExportOutcome> parts;
    for (core::ExportedPart& part : *outcome)
        parts.push_back({QString::fromStdString(part.name), QString::fromStdString(part.exported.folder.string()),
                         part.quantity, std::move(part.exported.proof), part.exported.pieceFiles});
    const bool proved = std::all_of(parts.begin(), parts.end(), [](const ExportOutcome& p) { return p.proof.holds(); });
    if (!m_changed)
        m_proved = proved;
    m_bench.say(proved ? Note::Severity::Info : Note::Severity::Warning,
                proved ? tr("exported to %1, every claim of the proof holds").arg(folder)
                       : tr("exported to %1, but the proof failed").arg(folder));
    m_page.showOutcomes(std::move(parts), folder);
    emit ended();
}

} // namespace quoin::ui
