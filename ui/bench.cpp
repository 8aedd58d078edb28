// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/bench.h"

#include "ui/window_words.h"

#include <algorithm>
#include <malloc.h>

namespace quoin::ui {

namespace {

/// Whether only what follows the pointer differs. Beginning and end of a drag are more than that.
bool sameChoice(const ViewState& a, const ViewState& b)
{
    const auto dragged = [](const ViewState& s) { return s.livePlane ? s.livePlane->first : 0; };
    return a.step == b.step && a.jointTab == b.jointTab && a.part == b.part && a.cut == b.cut && a.pieces == b.pieces &&
           a.assembled == b.assembled && a.isolate == b.isolate && a.onBed == b.onBed && a.person == b.person &&
           a.bed == b.bed && a.edges == b.edges && a.seeThrough == b.seeThrough && a.painting == b.painting &&
           a.showSafety == b.showSafety && a.safety == b.safety && a.facing == b.facing &&
           a.liveScale.has_value() == b.liveScale.has_value() && dragged(a) == dragged(b) && !a.preview && !b.preview &&
           a.backgroundTop == b.backgroundTop && a.backgroundBottom == b.backgroundBottom && a.dark == b.dark;
}

/// Threads with a heap of their own don't wait for each other's memory. By default glibc lets some share the window's
/// when there are more of them than eight a core.
constexpr int mostHeaps = 64;

} // namespace

Bench::Bench(QObject* parent) : QObject(parent), m_jobs(new Jobs(this)), m_document(new Document(*m_jobs, this))
{
    mallopt(M_ARENA_MAX, mostHeaps);
    connect(m_document, &Document::designChanged, this, &Bench::followDesign);
}

Bench::~Bench()
{
    stop();
    delete m_document;
}

void Bench::stop()
{
    m_jobs->cancelAll();
    for (Job* job : m_jobs->running())
        delete job; // waits
}

void Bench::look(const std::function<void(ViewState&)>& change)
{
    const ViewState before = m_state;
    change(m_state);
    if (!sameChoice(before, m_state))
        emit chosen();
    emit looked();
}

core::RealisedPtr Bench::realised() const
{
    const core::PartDesign* current = part();
    const PartWork* made = work();
    if (current == nullptr || made == nullptr || !made->view())
        return nullptr;
    const core::RealisedPtr& r = made->view()->realised;
    const auto sameCut = [](const core::CutStep& a, const core::CutStep& b) {
        return a.id == b.id && a.plane == b.plane && a.enabled == b.enabled && a.within == b.within;
    };
    const bool same =
        r->design.source == current->source && r->design.scale == current->scale &&
        std::equal(r->design.cuts.begin(), r->design.cuts.end(), current->cuts.begin(), current->cuts.end(), sameCut);
    return same ? r : nullptr;
}

void Bench::say(Note::Severity severity, const QString& text)
{
    emit said(severity, text);
}

void Bench::refuse(const Problem& problem)
{
    if (problem.reason != Reason::Cancelled)
        say(Note::Severity::Error, windowWords(problem.sentence()));
}

const mesh::Health* Bench::healthOf(const core::PartDesign& part)
{
    const auto found = m_health.find(part.source);
    if (found != m_health.end())
        return found->second ? &*found->second : nullptr;
    m_health[part.source] = std::nullopt;
    m_jobs->start<mesh::Health>(
        tr("Looking at %1").arg(QString::fromStdString(part.name)),
        [mesh = part.source](const Context& context) {
            mesh::HealthOptions options;
            options.selfIntersections = false; // looked for when it was read
            return mesh::healthOf(*mesh, options, context);
        },
        this, [this, mesh = part.source](mesh::Health health) { setHealth(mesh, std::move(health)); }, true);
    return nullptr;
}

void Bench::setHealth(const mesh::MeshPtr& source, mesh::Health health)
{
    m_health[source] = std::move(health);
    emit healthKnown();
}

void Bench::followDesign()
{
    // What was looked at may have gone.
    bool changed = false;
    if (design().part(m_state.part) == nullptr) {
        m_state.part = design().parts.empty() ? 0 : design().parts.front().id;
        m_state.cut = 0;
        m_state.pieces.clear();
        m_state.painting = m_state.onBed = m_state.isolate = false;
        m_state.preview.reset();
        changed = true;
    }
    const core::PartDesign* current = part();
    if (m_state.cut != 0 && (current == nullptr || core::cutOf(*current, m_state.cut) == nullptr)) {
        m_state.cut = 0;
        changed = true;
    }
    std::erase_if(m_health, [&](const auto& known) {
        return known.first.use_count() == 1; // no design and no job holds it any more
    });
    if (changed) {
        emit chosen();
        emit looked();
    }
}

} // namespace quoin::ui
