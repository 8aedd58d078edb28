// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/part_work.h"

namespace quoin::ui {

namespace {

/// What pieces and joints follow from, and nothing else.
core::Design thatMatters(const core::Design& design, const core::PartDesign& part)
{
    core::Design out = design;
    out.parts = {part};
    core::PartDesign& p = out.parts.front();
    p.quantity = 1;
    p.visible = true;
    p.keepClear.clear();
    for (core::CutStep& cut : p.cuts)
        cut.name.clear();
    return out;
}

bool sameWork(const core::Design& a, const core::Design& b)
{
    if (a.parts.empty() || b.parts.empty())
        return false;
    const core::PartDesign &p = a.parts.front(), &q = b.parts.front();
    return a.beds == b.beds && a.marginMm == b.marginMm && a.anyRotation == b.anyRotation &&
           a.islandsApart == b.islandsApart && p.source == q.source && p.scale == q.scale && p.material == q.material &&
           p.name == q.name && p.cuts == q.cuts && p.joints == q.joints && p.fit == q.fit && p.machine == q.machine &&
           p.fits == q.fits && p.load == q.load && p.faces == q.faces && p.suggestionWords == q.suggestionWords;
}

/// The same in all but the load, which no piece and no joint follows from.
bool sameButLoad(core::Design a, const core::Design& b)
{
    if (!a.parts.empty() && !b.parts.empty())
        a.parts.front().load = b.parts.front().load;
    return sameWork(a, b);
}

/// What is there already, for another load.
PartViewPtr withLoad(const PartView& view, const core::LoadCase& load)
{
    auto realised = std::make_shared<core::Realised>(*view.realised);
    realised->design.load = realised->project.load = load;
    auto out = std::make_shared<PartView>(view);
    out->realised = std::move(realised);
    return out;
}

struct Outcome {
    PartViewPtr view;
    std::optional<Problem> problem;
};

Outcome workOut(const core::Design& design, PartViewPtr view, const std::function<void(PartViewPtr)>& show,
                const Context& context)
{
    const core::RealisedPtr before = view ? view->realised : nullptr;
    const auto made = core::realise(
        design, design.parts.front(), before,
        [&](const core::RealisedPtr& stage) {
            if (PartViewPtr next = partView(stage, view, context)) {
                view = std::move(next);
                show(view);
            }
        },
        context);
    if (!made)
        return {nullptr, made.problem()};
    Outcome out;
    if (!context.cancelled())
        out.view = withSunk(view, out.problem, context);
    return out;
}

} // namespace

PartWork::PartWork(Jobs& jobs, QObject* parent) : QObject(parent), m_cutting(jobs), m_preparing(jobs) {}

void PartWork::ask(const core::Design& design, const core::PartDesign& part)
{
    prepareSource(part);
    core::Design wanted = thatMatters(design, part);
    if (sameWork(m_asked, wanted))
        return;
    // All but the load is there, down to the sunk joints.
    const bool onlyLoad = m_view && upToDate() && m_view->realised->stage == core::Realised::Stage::Jointed &&
                          !m_view->sunk.empty() && sameButLoad(m_asked, wanted);
    m_asked = std::move(wanted);
    m_problem.reset();
    m_cutting.askInStages<Outcome, PartViewPtr>(
        tr("Cutting %1").arg(QString::fromStdString(part.name)),
        [wanted = m_asked, view = m_view, onlyLoad](const Context& context,
                                                    const std::function<void(PartViewPtr)>& show) {
            if (onlyLoad)
                return Outcome{withLoad(*view, wanted.parts.front().load), std::nullopt};
            return workOut(wanted, view, show, context);
        },
        [this](PartViewPtr view) { setView(std::move(view)); },
        [this](Outcome outcome) {
            m_problem = std::move(outcome.problem);
            if (m_problem && m_problem->reason == Reason::Cancelled)
                m_asked = {}; // the user stopped it: the next change starts it again
            if (outcome.view)
                m_view = std::move(outcome.view);
            emit changed();
        });
    emit changed();
}

void PartWork::prepareSource(const core::PartDesign& part)
{
    if (m_sourceMesh == part.source)
        return;
    m_sourceMesh = part.source;
    m_source.reset();
    m_preparing.ask<std::shared_ptr<const SourceView>>(
        tr("Preparing %1").arg(QString::fromStdString(part.name)),
        [mesh = part.source](const Context& context) -> std::shared_ptr<const SourceView> {
            auto view = std::make_shared<SourceView>();
            view->shown = shownMesh(mesh, context);
            if (!context.cancelled())
                view->neighbours = std::make_shared<const SurfaceNeighbours>(neighboursOf(*mesh));
            return view;
        },
        [this](std::shared_ptr<const SourceView> view) {
            if (view->neighbours)
                m_source = std::move(view);
            emit changed();
        },
        true);
}

void PartWork::setView(PartViewPtr view)
{
    m_view = std::move(view);
    emit changed();
}

} // namespace quoin::ui
