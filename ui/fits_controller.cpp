// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/fits_controller.h"

#include "core/coupon_file.h"
#include "core/state_folder.h"
#include "ui/fits_dialog.h"
#include "ui/own_fits.h"
#include "ui/window_words.h"

#include <QDir>
#include <QFileDialog>

#include <algorithm>

namespace quoin::ui {

namespace {

std::string today()
{
    return core::timeStamp().substr(0, std::string("2026-11-25").size());
}

std::filesystem::path pathOf(const QString& text)
{
    return std::filesystem::path(text.toStdString());
}

} // namespace

FitsController::FitsController(Bench& bench, QWidget* window) : QObject(window), m_bench(bench), m_window(window)
{
    connect(&bench.document(), &Document::designChanged, this, [this] {
        if (m_dialog)
            showTable();
    });
}

void FitsController::show()
{
    if (!m_dialog) {
        m_dialog = new FitsDialog(m_window);
        m_dialog->setAttribute(Qt::WA_DeleteOnClose);
        connect(m_dialog, &FitsDialog::machineWanted, this, &FitsController::setMachine);
        connect(m_dialog, &FitsDialog::couponWanted, this, &FitsController::askFolder);
        connect(m_dialog, &FitsDialog::sheetWanted, this, &FitsController::askSheet);
        connect(m_dialog, &FitsDialog::answersGiven, this, &FitsController::take);
        connect(m_dialog, &FitsDialog::removalWanted, this, &FitsController::remove);
        m_dialog->setSheet(m_sheet, QDir::toNativeSeparators(m_folder));
        m_dialog->setBusy(m_job != nullptr);
    }
    showTable();
    m_dialog->show();
    m_dialog->raise();
}

std::optional<core::FitTable> FitsController::table() const
{
    auto found = core::FitTable::load(core::FitTable::defaultFile());
    if (found)
        return std::move(*found);
    refuse(found.problem());
    return std::nullopt;
}

void FitsController::refuse(const Problem& problem) const
{
    if (m_dialog)
        m_dialog->showProblem(windowWords(problem.sentence()));
    else
        m_bench.refuse(problem);
}

void FitsController::showTable()
{
    const core::PartDesign* part = m_bench.part();
    m_dialog->setTable(table().value_or(core::FitTable{}),
                       part != nullptr ? QString::fromStdString(part->material) : QStringLiteral("PLA"),
                       part != nullptr ? QString::fromStdString(part->machine) : QString());
}

void FitsController::setMachine(const QString& machine)
{
    const core::PartDesign* part = m_bench.part();
    if (part == nullptr || part->machine == machine.toStdString())
        return;
    core::PartDesign next = *part;
    next.machine = machine.toStdString();
    m_bench.document().editPart(tr("Machine of part"), core::withFits(next, ownFits(m_bench)));
}

void FitsController::askFolder()
{
    const QString folder = QFileDialog::getSaveFileName(
        m_dialog, tr("New folder for the coupon"), QDir::home().filePath(QStringLiteral("fit coupon")), {}, nullptr,
        QFileDialog::ShowDirsOnly | QFileDialog::DontConfirmOverwrite);
    if (!folder.isEmpty())
        makeCoupon(folder);
}

void FitsController::askSheet()
{
    const QString file = QFileDialog::getOpenFileName(m_dialog, tr("Sheet of a coupon"), m_folder,
                                                      tr("Sheets of coupons (coupon.json)"));
    if (!file.isEmpty())
        openSheet(QFileInfo(file).path());
}

void FitsController::makeCoupon(const QString& folder)
{
    if (m_job)
        return;
    core::CouponOptions options;
    if (const core::PartDesign* part = m_bench.part()) {
        options.material = part->material;
        options.machine = part->machine;
    }
    if (!m_bench.design().beds.empty())
        options.bed = m_bench.design().beds.front();
    options.marginMm = m_bench.design().marginMm;
    if (m_dialog) {
        m_dialog->setBusy(true);
        m_dialog->showProblem({});
    }
    m_job = m_bench.jobs().start<Status>(
        tr("Fit coupon"),
        [options, folder](const Context&) -> Status {
            const auto coupon = core::makeCoupon(options, today());
            if (!coupon)
                return coupon.problem();
            return core::writeCoupon(*coupon, pathOf(folder), false);
        },
        this,
        [this, folder](const Status& status) {
            if (m_dialog)
                m_dialog->setBusy(false);
            if (!status)
                refuse(status.problem());
            else {
                openSheet(folder);
                m_bench.say(Note::Severity::Info, tr("fit coupon written to %1").arg(QDir::toNativeSeparators(folder)));
            }
        });
}

void FitsController::openSheet(const QString& folder)
{
    auto sheet = core::readCouponSheet(pathOf(folder));
    if (!sheet) {
        refuse(sheet.problem());
        return;
    }
    m_sheet = std::move(*sheet);
    m_folder = folder;
    if (m_dialog) {
        m_dialog->showProblem({});
        m_dialog->setSheet(m_sheet, QDir::toNativeSeparators(folder));
    }
}

void FitsController::take(const core::CouponAnswers& answers)
{
    const core::PartDesign* part = m_bench.part();
    if (!m_sheet)
        return;
    core::CouponSheet sheet = *m_sheet;
    // Found on the machine that prints this part, unless the coupon says otherwise.
    if (part != nullptr && sheet.material.empty())
        sheet.material = part->material;
    if (part != nullptr && sheet.machine.empty() && sheet.material == part->material)
        sheet.machine = part->machine;
    auto row = core::rowFromCoupon(sheet, answers);
    if (!row) {
        refuse(row.problem());
        return;
    }
    row->date = today();
    const auto known = table();
    if (!known)
        return;
    const auto more = known->withRow(*row);
    if (!more) {
        refuse(more.problem());
        return;
    }
    keep(*more, tr("Fits of %1").arg(QString::fromStdString(core::processName(row->process))));
}

void FitsController::remove(const core::FitRow& row)
{
    const auto known = table();
    if (!known)
        return;
    const auto less = known->withoutRow(row.material, row.machine, row.process);
    if (!less) {
        refuse(less.problem());
        return;
    }
    keep(*less, tr("Remove fits of %1").arg(QString::fromStdString(core::processName(row.process))));
}

void FitsController::keep(const core::FitTable& table, const QString& name)
{
    if (const Status status = table.save(core::FitTable::defaultFile()); !status) {
        refuse(status.problem());
        return;
    }
    if (m_dialog)
        m_dialog->showProblem({});
    const core::Design next = core::withFits(m_bench.design(), table);
    const auto same = [](const core::PartDesign& a, const core::PartDesign& b) { return a.fits == b.fits; };
    if (!std::ranges::equal(m_bench.design().parts, next.parts, same))
        m_bench.document().edit(name, next);
    if (m_dialog)
        showTable();
}

} // namespace quoin::ui

#include "moc_fits_controller.cpp"
