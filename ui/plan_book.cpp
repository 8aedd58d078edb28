// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/plan_book.h"

#include "core/plan_defaults.h"
#include "core/print_project.h"
#include "ui/plan_shown.h"

#include <QFile>
#include <QUndoCommand>

namespace quoin::ui {

namespace {

std::filesystem::path pathOf(const QString& file)
{
    return QFile::encodeName(file).toStdString();
}

} // namespace

/// One edit of the plan, beside those of the design.
class PlanEdit : public QUndoCommand {
public:
    PlanEdit(PlanBook& book, const QString& name, core::PlanDocument before, core::PlanDocument after, QString mergeKey)
        : QUndoCommand(name),
          m_book(book),
          m_before(std::move(before)),
          m_after(std::move(after)),
          m_mergeKey(std::move(mergeKey))
    {
    }

    void undo() override { m_book.set(m_before); }
    void redo() override { m_book.set(m_after); }
    int id() const override { return m_mergeKey.isEmpty() ? -1 : 2; }
    bool mergeWith(const QUndoCommand* other) override
    {
        const auto* next = static_cast<const PlanEdit*>(other);
        if (next->m_mergeKey != m_mergeKey)
            return false;
        m_after = next->m_after;
        return true;
    }

private:
    PlanBook& m_book;
    core::PlanDocument m_before, m_after;
    QString m_mergeKey;
};

PlanBook::PlanBook(Bench& bench, QObject* parent) : QObject(parent), m_bench(bench)
{
    connect(&bench.document(), &Document::opened, this, &PlanBook::open);
    connect(&bench.document(), &Document::fileChanged, this, &PlanBook::follow);
    readShop();
    open();
}

void PlanBook::readShop()
{
    auto shop = core::loadShop(core::machinesFile());
    if (shop)
        m_shop = std::move(*shop);
    else
        m_bench.refuse(shop.problem());
}

Status PlanBook::keepShop(core::Shop shop)
{
    if (const Status s = core::saveShop(shop, core::machinesFile()); !s)
        return s;
    m_shop = std::move(shop);
    return Done{};
}

QString PlanBook::file() const
{
    return m_designFile.isEmpty() ? QString() : QString::fromStdString(core::planFileOf(pathOf(m_designFile)).string());
}

void PlanBook::open()
{
    m_designFile = m_bench.document().file();
    m_document = {};
    m_document.request.pricePerKwh = core::PrintSetup{}.pricePerKwh;
    m_touched = m_damaged = false;
    if (const QString at = file(); !at.isEmpty() && QFile::exists(at)) {
        auto known = core::loadPlan(pathOf(at));
        if (known) {
            m_document = std::move(*known);
            m_touched = true;
        } else {
            m_damaged = true;
            m_bench.refuse(known.problem());
        }
    }
    emit changed();
}

void PlanBook::follow()
{
    const QString& now = m_bench.document().file();
    if (now == m_designFile)
        return;
    m_designFile = now; // saved under another name: the plan goes along
    m_damaged = false;
    keep();
}

void PlanBook::keep()
{
    if (!m_touched || m_damaged || m_designFile.isEmpty())
        return;
    if (const Status s = core::savePlan(m_document, pathOf(file())); !s)
        m_bench.refuse(s.problem());
}

void PlanBook::edit(const QString& name, core::PlanDocument next, const QString& mergeKey)
{
    m_bench.document().history().push(new PlanEdit(*this, name, m_document, std::move(next), mergeKey));
}

void PlanBook::made(const core::PrintPlan& plan)
{
    m_document = core::withPlates(std::move(m_document), plan);
    keep();
}

void PlanBook::set(const core::PlanDocument& document)
{
    m_document = document;
    m_touched = true;
    keep();
    emit changed();
}

bool PlanBook::machinesAreUsual() const
{
    return m_document.request.machines.empty() && m_shop.machines.empty();
}

std::vector<core::Machine> PlanBook::machines() const
{
    std::vector<core::Machine> out = m_document.request.machines;
    if (out.empty())
        out = m_shop.machines;
    if (out.empty())
        return core::usualMachines(m_bench.design().beds, m_bench.design().marginMm);
    for (core::Machine& m : out)
        if (const core::Machine* now = m_shop.machine(m.name))
            m = *now;
    return out;
}

core::PlanRequest PlanBook::request() const
{
    core::PlanRequest r = m_document.request;
    r.machines = machines();
    r.stock = m_shop.stock;
    if (r.start == core::Moment{})
        r.start = core::usualStart(r.machines, momentOf(minuteNow()));
    return r;
}

} // namespace quoin::ui

#include "moc_plan_book.cpp"
