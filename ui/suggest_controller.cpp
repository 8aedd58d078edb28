// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/suggest_controller.h"

#include "core/cut_judge.h"
#include "ui/beds_panel.h"

namespace quoin::ui {

/// A judge of the part as it is, with what it was made from.
struct SuggestController::PartJudge {
    explicit PartJudge(const core::Project& p)
        : mesh(p.part.mesh),
          beds(p.beds),
          marginMm(p.marginMm),
          load(p.load),
          joints(p.jointOptions),
          material(p.part.material),
          judge(*mesh, beds, marginMm, {joints, load, material})
    {
    }
    mesh::MeshPtr mesh;
    std::vector<core::Bed> beds;
    double marginMm;
    core::LoadCase load;
    core::JointOptions joints;
    std::string material;
    core::CutJudge judge;
};

struct SuggestController::Present {
    core::SuggestionTerms terms;
    std::shared_ptr<const PartJudge> judge;
};

SuggestController::SuggestController(Bench& bench, SuggestPanel& panel, BedsPanel& beds, QObject* parent)
    : QObject(parent),
      m_bench(bench),
      m_panel(panel),
      m_beds(beds),
      m_shelf(core::BedShelf::defaultFile()),
      m_finding(bench.jobs())
{
    connect(&m_panel, &SuggestPanel::startWanted, this, &SuggestController::start);
    connect(&m_panel, &SuggestPanel::cancelWanted, this, [this] {
        if (m_job)
            m_job->cancel();
    });
    connect(&m_panel, &SuggestPanel::bedsWanted, this, &SuggestController::bedsWanted);
    connect(&m_panel, &SuggestPanel::clearMarksWanted, this, [this] {
        if (const core::PartDesign* part = m_bench.part()) {
            core::PartDesign next = *part;
            next.keepClear.clear();
            m_bench.document().editPart(tr("Unmark all"), std::move(next));
        }
    });
    connect(&m_panel, &SuggestPanel::previewWanted, this, [this](int id) {
        m_bench.look([&](ViewState& state) {
            const auto kept = m_kept.find(id);
            state.preview.reset();
            state.previewCut = -1;
            if (kept != m_kept.end())
                state.preview = kept->second.plan;
        });
    });
    connect(&m_panel, &SuggestPanel::cutPicked, this,
            [this](int node) { m_bench.look([node](ViewState& state) { state.previewCut = node; }); });
    connect(&m_panel, &SuggestPanel::acceptWanted, this, &SuggestController::accept);
    connect(&m_panel, &SuggestPanel::discarded, this, [this](int id) {
        m_kept.erase(id);
        m_bench.look([](ViewState& state) { state.preview.reset(); });
    });
    connectBeds();
    const auto show = [this] {
        showStart();
        showPresent();
        showBeds();
    };
    connect(&bench.document(), &Document::designChanged, this, show);
    connect(&bench.document(), &Document::workChanged, this, show);
    connect(&bench, &Bench::chosen, this, [this] {
        showStart();
        showPresent(); // another part may have been chosen
    });
    show();
    showShelf();
}

void SuggestController::connectBeds()
{
    connect(&m_beds, &BedsPanel::changed, this, [this](const BedsChoice& choice) {
        core::Design next = m_bench.design();
        next.beds = choice.beds;
        next.marginMm = choice.marginMm;
        next.anyRotation = choice.anyRotation;
        next.islandsApart = choice.islandsApart;
        m_bench.document().edit(tr("Beds"), std::move(next), QStringLiteral("beds"));
    });
    const auto done = [this](const Status& status) {
        m_beds.showShelfProblem(status ? QString() : QString::fromStdString(status.problem().sentence()));
        if (status)
            showShelf();
    };
    connect(&m_beds, &BedsPanel::keepWanted, this,
            [this, done](const core::Bed& bed) { done(m_shelf.add(bed, true)); });
    connect(&m_beds, &BedsPanel::forgetWanted, this,
            [this, done](const QString& name) { done(m_shelf.remove(name.toStdString())); });
}

void SuggestController::showShelf()
{
    const auto own = m_shelf.own();
    m_beds.setShelf(own ? *own : std::vector<core::Bed>{}, core::shippedBeds());
    if (!own)
        m_beds.showShelfProblem(QString::fromStdString(own.problem().sentence()));
}

void SuggestController::showBeds()
{
    const core::Design& d = m_bench.design();
    m_beds.setChoice({d.beds, d.marginMm, d.anyRotation, d.islandsApart});
}

void SuggestController::showStart()
{
    const core::PartDesign* part = m_bench.part();
    const int id = part != nullptr ? part->id : 0;
    const double scale = part != nullptr ? part->scale : 0;
    if (id != m_part || scale != m_partScale) {
        m_kept.clear();
        m_panel.clear();
        m_termsOf = nullptr;
    }
    m_part = id;
    m_partScale = scale;
    SuggestStart start;
    start.beds = m_bench.design().beds;
    start.marginMm = m_bench.design().marginMm;
    if (part != nullptr) {
        start.part = QString::fromStdString(part->name);
        start.ownCuts = static_cast<int>(part->cuts.size());
        start.markedTriangles = static_cast<int>(part->keepClear.size());
        start.markedAreaMm2 = part->scale * part->scale * markedArea(*part);
    }
    m_panel.setStart(start);
}

/// Before scaling; found anew when the marks have changed.
double SuggestController::markedArea(const core::PartDesign& part)
{
    if (m_marksOf == part.source && m_marks == part.keepClear)
        return m_markedAreaMm2;
    m_marksOf = part.source;
    m_marks = part.keepClear;
    m_markedAreaMm2 = 0;
    for (const mesh::Index t : part.keepClear) {
        const mesh::Vec3 a = part.source->corner(t, 0);
        m_markedAreaMm2 += 0.5 * mesh::length(cross(part.source->corner(t, 1) - a, part.source->corner(t, 2) - a));
    }
    return m_markedAreaMm2;
}

void SuggestController::showPresent()
{
    const core::RealisedPtr realised = m_bench.realised();
    if (!realised || realised->stage == core::Realised::Stage::Cut || m_bench.design().beds.empty()) {
        m_panel.setPresent(nullptr);
        m_termsOf = nullptr;
        m_finding.drop();
        return;
    }
    if (m_termsOf == realised)
        return;
    if (!m_termsOf || m_termsOf->design.id != realised->design.id)
        m_panel.setPresent(nullptr);
    m_termsOf = realised;
    m_finding.ask<Present>(
        tr("Comparing"),
        [realised, known = m_judge, judged = !m_kept.empty(),
         weights = m_panel.wish().weights](const Context& context) {
            const core::Project& project = realised->project;
            Present out{core::termsOf(project.pieces, project.seams, {}), known};
            if (!judged || project.part.mesh == nullptr)
                return out;
            if (!out.judge || out.judge->mesh != project.part.mesh || out.judge->beds != project.beds ||
                out.judge->marginMm != project.marginMm || !(out.judge->load == project.load) ||
                !(out.judge->joints == project.jointOptions) || out.judge->material != project.part.material)
                out.judge = std::make_shared<const PartJudge>(project);
            if (auto terms =
                    core::judgePlan(out.judge->judge, *project.part.mesh, project.plan, project.pieces, context))
                out.terms.judged = std::move(*terms);
            out.terms.weights = weights;
            return out;
        },
        [this](Present present) {
            m_judge = std::move(present.judge);
            m_present = std::move(present.terms);
            m_panel.setPresent(&m_present);
        },
        true);
}

void SuggestController::start(const SuggestWish& wish)
{
    const core::PartDesign* part = m_bench.part();
    if (part == nullptr || m_job || !m_panel.whyNoStart().isEmpty())
        return;
    m_panel.begin();
    m_clock.start();
    struct Best {
        int pieces;
        core::LowerBound bound;
    };
    m_job = m_bench.jobs().startInStages<Result<core::FoundCuts>, Best>(
        tr("Looking for cuts"),
        [design = m_bench.design(), part = *part, wish](const Context& context, const std::function<void(Best)>& hear) {
            return core::suggestPart(
                design, part, wish,
                [&](const core::Suggestion& better) {
                    hear({better.pieces, better.bound});
                },
                context);
        },
        this,
        [this](Best best) { m_panel.setBest(best.pieces, best.bound, static_cast<double>(m_clock.elapsed()) / 1e3); },
        [this, id = part->id, scale = part->scale](Result<core::FoundCuts> outcome) {
            m_job.clear();
            if (id == m_part && scale == m_partScale)
                ended(std::move(outcome));
            else
                m_panel.fail({Reason::Cancelled, "the part has changed meanwhile", {}, {}, {}});
            emit busyChanged(); // when the panel knows too
        });
    connect(m_job, &Job::progressed, this, [this](double fraction, const QString&) {
        m_panel.setProgress(fraction, static_cast<double>(m_clock.elapsed()) / 1e3);
    });
    emit busyChanged();
}

void SuggestController::startAll()
{
    std::vector<core::PartDesign> parts;
    for (const core::PartDesign& part : m_bench.design().parts) {
        const PartWork* work = m_bench.document().work(part.id);
        if (work != nullptr && work->view() && !work->busy() && !work->view()->realised->fitsBeds())
            parts.push_back(part);
    }
    if (m_job || parts.empty() || m_bench.design().beds.empty())
        return;
    struct Answers {
        std::map<int, core::Suggestion> found;
        std::vector<std::pair<int, Problem>> failed;
    };
    const int seconds = std::max(2, m_panel.wish().seconds / static_cast<int>(parts.size()));
    m_job = m_bench.jobs().start<Answers>(
        tr("Looking for cuts"),
        [design = m_bench.design(), parts, seconds, wish = m_panel.wish()](const Context& context) {
            Answers answers;
            double done = 0;
            for (const core::PartDesign& part : parts) {
                Context each([&, all = static_cast<double>(parts.size())](double share, std::string_view) {
                    context.report((done + share) / all, part.name);
                    if (context.cancelled())
                        each.cancel();
                });
                core::SuggestWish one = wish;
                one.seconds = seconds;
                one.keepOwnCuts = true;
                one.alternatives = 1;
                auto found = core::suggestPart(design, part, one, {}, each);
                done += 1;
                if (found)
                    answers.found[part.id] = std::move(found->ways.front().suggestion);
                else
                    answers.failed.emplace_back(part.id, found.problem());
                if (context.cancelled())
                    break;
            }
            return answers;
        },
        this,
        [this, parts](Answers answers) {
            core::Design next = m_bench.design();
            int taken = 0;
            for (const core::PartDesign& part : parts) {
                core::PartDesign* now = next.part(part.id);
                const auto found = answers.found.find(part.id);
                // A part that was changed meanwhile keeps what its maker did.
                if (now == nullptr || found == answers.found.end() || now->scale != part.scale ||
                    now->source != part.source || !(now->cuts == part.cuts) || now->keepClear != part.keepClear)
                    continue;
                *now = core::withPlan(*now, found->second.plan, found->second.words);
                ++taken;
            }
            for (const auto& [id, problem] : answers.failed)
                if (problem.reason != Reason::Cancelled)
                    m_bench.refuse(problem);
            m_job.clear();
            m_panel.setOthersBusy(false);
            m_panel.startAfreshNext();
            emit busyChanged();
            if (taken > 0)
                m_bench.document().edit(tr("Cut the parts as suggested"), std::move(next));
        });
    m_panel.setOthersBusy(true);
    emit busyChanged();
}

void SuggestController::ended(Result<core::FoundCuts> outcome)
{
    if (!outcome) {
        m_panel.fail(outcome.problem());
        m_bench.refuse(outcome.problem());
        return;
    }
    const core::CutWay& best = outcome->best();
    const int id = m_panel.finish(QString::fromStdString(best.suggestion.words), best.terms, outcome->seconds,
                                  outcome->stoppedEarly);
    m_bench.say(Note::Severity::Info,
                tr("suggestion for %1: %2; cut by %3")
                    .arg(m_bench.part() ? QString::fromStdString(m_bench.part()->name) : QString(),
                         QString::fromStdString(core::wayWords(best)), QString::fromStdString(best.suggestion.words)));
    m_bench.look([&](ViewState& state) {
        state.preview = best.suggestion.plan;
        state.previewCut = -1;
    });
    m_kept[id] = best.suggestion;
    for (std::size_t i = 1; i < outcome->ways.size(); ++i) {
        const core::CutWay& way = outcome->ways[i];
        if (const int other =
                m_panel.addOther(QString::fromStdString(way.suggestion.words), way.terms, outcome->seconds);
            other != 0)
            m_kept[other] = way.suggestion;
    }
    m_termsOf = nullptr; // now there is something to compare the present cuts with
    showPresent();
}

void SuggestController::accept(int id)
{
    const auto kept = m_kept.find(id);
    const core::PartDesign* part = m_bench.part();
    if (kept == m_kept.end() || part == nullptr)
        return;
    m_bench.look([](ViewState& state) {
        state.preview.reset();
        state.cut = 0;
        state.pieces.clear();
    });
    const core::PartDesign next = core::withPlan(*part, kept->second.plan, kept->second.words);
    m_panel.startAfreshNext();
    m_bench.document().editPart(tr("Accept suggestion"), next);
}

} // namespace quoin::ui
