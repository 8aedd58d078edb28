// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/document.h"

#include <QFileInfo>
#include <QUndoCommand>

#include <algorithm>

namespace quoin::ui {

/// One edit: the design before and after. Designs are small and share their meshes.
class DesignEdit : public QUndoCommand {
public:
    DesignEdit(Document& document, const QString& name, core::Design before, core::Design after, QString mergeKey)
        : QUndoCommand(name),
          m_document(document),
          m_before(std::move(before)),
          m_after(std::move(after)),
          m_mergeKey(std::move(mergeKey))
    {
    }

    void undo() override { m_document.set(m_before); }
    void redo() override { m_document.set(m_after); }
    int id() const override { return m_mergeKey.isEmpty() ? -1 : 1; }
    bool mergeWith(const QUndoCommand* other) override
    {
        const auto* next = static_cast<const DesignEdit*>(other);
        if (next->m_mergeKey != m_mergeKey)
            return false;
        m_after = next->m_after;
        return true;
    }

private:
    Document& m_document;
    core::Design m_before, m_after;
    QString m_mergeKey;
};

Document::Document(Jobs& jobs, QObject* parent) : QObject(parent), m_jobs(jobs)
{
    connect(&m_history, &QUndoStack::cleanChanged, this, &Document::fileChanged);
    // Clean or not, it may be another kind of edit that makes the difference.
    connect(&m_history, &QUndoStack::indexChanged, this, &Document::fileChanged);
}

Document::~Document()
{
    // A history with unsaved changes tells of being emptied when it goes; by then there is nothing left to ask about.
    m_history.blockSignals(true);
}

void Document::edit(const QString& name, core::Design next, const QString& mergeKey)
{
    m_history.push(new DesignEdit(*this, name, m_design, std::move(next), mergeKey));
}

void Document::editPart(const QString& name, core::PartDesign next, const QString& mergeKey)
{
    core::Design design = m_design;
    if (core::PartDesign* part = design.part(next.id))
        *part = std::move(next);
    edit(name, std::move(design), mergeKey);
}

void Document::reset(core::Design design, const QString& file)
{
    m_history.clear();
    m_works.clear();
    m_file = file;
    emit opened();
    set(core::withBoxes(std::move(design)));
    emit fileChanged();
}

void Document::saved(const QString& file)
{
    m_file = file;
    m_history.setClean();
    emit fileChanged();
}

bool Document::modified() const
{
    const int clean = m_history.cleanIndex(), now = m_history.index();
    if (clean == now)
        return false;
    if (clean < 0)
        return true;
    for (int i = std::min(clean, now); i < std::max(clean, now); ++i)
        if (dynamic_cast<const DesignEdit*>(m_history.command(i)) != nullptr)
            return true;
    return false;
}

QString Document::title() const
{
    return m_file.isEmpty() ? tr("New design") : QFileInfo(m_file).fileName();
}

PartWork* Document::work(int part) const
{
    const auto found = m_works.find(part);
    return found == m_works.end() ? nullptr : found->second.get();
}

void Document::set(const core::Design& design)
{
    m_design = design;
    std::erase_if(m_works, [&](const auto& work) { return m_design.part(work.first) == nullptr; });
    for (const core::PartDesign& part : m_design.parts) {
        std::unique_ptr<PartWork>& work = m_works[part.id];
        if (!work) {
            work = std::make_unique<PartWork>(m_jobs, nullptr);
            connect(work.get(), &PartWork::changed, this, [this, id = part.id] { emit workChanged(id); });
        }
    }
    // Told first, so that whoever hears of the work knows the design already.
    emit designChanged();
    for (const core::PartDesign& part : m_design.parts)
        if (PartWork* work = this->work(part.id))
            work->ask(m_design, part);
}

} // namespace quoin::ui
