// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/same_word.h"
#include "core/state_folder.h"
#include "ui/estimate_page.h"
#include "ui/machines_dialog.h"
#include "ui/plan_board.h"
#include "ui/plan_controller.h"
#include "ui/plan_export_form.h"
#include "ui/plan_money.h"
#include "ui/plan_panel.h"
#include "ui/plan_pdf.h"
#include "ui/prices_dialog.h"
#include "ui/recipe_dialog.h"
#include "ui/tick_page.h"
#include "ui/window_words.h"

#include <QDesktopServices>
#include <QDir>
#include <QFile>
#include <QFileInfo>
#include <QSettings>
#include <QUrl>

#include <algorithm>
#include <map>

namespace quoin::ui {

namespace {

std::filesystem::path pathOf(const QString& file)
{
    return QFile::encodeName(file).toStdString();
}

} // namespace

void PlanController::connectPanel()
{
    connect(&m_panel, &PlanPanel::startWanted, this, [this](qint64 minute) {
        editRequest(
            tr("Begin of printing"), [minute](core::PlanDocument& d) { d.request.start = momentOf(minute); }, "start");
    });
    const auto now = [this] {
        editRequest(tr("Plan again from now"), [](core::PlanDocument& d) { d.request.start = momentOf(minuteNow()); });
    };
    connect(&m_panel, &PlanPanel::nowWanted, this, now);
    connect(&m_board.ticks(), &TickPage::replanWanted, this, now);
    connect(&m_panel, &PlanPanel::deadlineWanted, this, [this](std::optional<qint64> minute) {
        editRequest(
            minute ? tr("Deadline") : tr("No deadline"),
            [minute](core::PlanDocument& d) {
                d.request.deadline = minute ? std::optional(momentOf(*minute)) : std::nullopt;
            },
            "deadline");
    });
    connect(&m_panel, &PlanPanel::testFitsWanted, this, [this](core::TestFits tests) {
        editRequest(tr("Order of test fits"), [tests](core::PlanDocument& d) { d.request.testFits = tests; });
    });
    const auto recipe = [this](const QString& name) {
        editRequest(tr("Recipe of the job"), [&](core::PlanDocument& d) { d.recipe = name.toStdString(); });
    };
    connect(&m_panel, &PlanPanel::recipeWanted, this, recipe);
    connect(&m_board.estimates(), &EstimatePage::partRecipeWanted, this,
            [this](const QString& part, const QString& name) {
                editRequest(tr("Recipe of %1").arg(part), [&](core::PlanDocument& d) {
                    if (name.isEmpty())
                        d.recipes.erase(part.toStdString());
                    else
                        d.recipes[part.toStdString()] = name.toStdString();
                });
            });
    connect(&m_panel, &PlanPanel::recipesWanted, this, &PlanController::showRecipes);
    connect(&m_board.estimates(), &EstimatePage::recipesWanted, this, &PlanController::showRecipes);
    connect(&m_panel, &PlanPanel::machinesWanted, this, &PlanController::showMachines);
    connect(&m_panel, &PlanPanel::pricesWanted, this, &PlanController::showPrices);
    connect(&m_board.ticks(), &TickPage::reportsGiven, this, &PlanController::report);
    connect(&m_board.ticks(), &TickPage::firstWanted, this, [this](const std::vector<std::string>& pieces, bool first) {
        editRequest(first ? tr("Print first") : tr("Print in any order"), [&](core::PlanDocument& d) {
            for (const std::string& id : pieces) {
                std::erase(d.first, id);
                if (first)
                    d.first.push_back(id);
            }
        });
    });
    connect(&m_panel.files(), &PlanExportForm::exportWanted, this, &PlanController::write);
    connect(&m_panel.files(), &PlanExportForm::openWanted, this,
            [](const QString& folder) { QDesktopServices::openUrl(QUrl::fromLocalFile(folder)); });
}

void PlanController::editRequest(const QString& name, const std::function<void(core::PlanDocument&)>& change,
                                 const QString& mergeKey)
{
    core::PlanDocument next = m_book->document();
    change(next);
    // From the first decision on the plan begins when it was said to, not at whatever hour it is looked at.
    if (next.request.start == core::Moment{})
        next.request.start = m_book->request().start;
    m_book->edit(name, std::move(next), mergeKey.isEmpty() ? mergeKey : QStringLiteral("plan ") + mergeKey);
}

void PlanController::report(const std::vector<core::PieceReport>& reports, const QString& name)
{
    core::PlanProgress progress = m_book->document().request.progress;
    for (const core::PieceReport& r : reports) {
        auto more = core::withReport(progress, r);
        if (!more) {
            m_bench.refuse(more.problem());
            return;
        }
        progress = std::move(*more);
    }
    editRequest(name, [&](core::PlanDocument& d) { d.request.progress = progress; });
    learnFrom(reports);
}

const core::EstimatedPiece* PlanController::lineOf(const std::string& piece) const
{
    for (const core::EstimatedPiece& e : m_work->estimate.pieces) {
        const std::string id = e.part + "/" + std::to_string(e.number);
        if (piece == id || piece.starts_with(id + "#"))
            return &e;
    }
    return nullptr;
}

void PlanController::learnFrom(const std::vector<core::PieceReport>& reports)
{
    if (!m_work)
        return;
    // What was on the plate together was weighed and timed together: one row for each recipe and material.
    std::map<std::pair<std::string, std::string>, core::PrintedRow> rows;
    std::map<std::pair<std::string, std::string>, int> prints;
    for (const core::PieceReport& r : reports) {
        const core::EstimatedPiece* line = lineOf(r.piece);
        if (r.state != core::PieceState::Printed || (!r.grams && !r.hours) || line == nullptr)
            continue;
        const std::pair key(line->recipe, line->material);
        core::PrintedRow& row = rows[key];
        if (prints[key]++ == 0) {
            row.date = core::momentText(r.at).substr(0, std::string("2026-12-01").size());
            row.piece = line->name;
            row.recipe = line->recipe;
            row.material = line->material;
            row.machine = r.machine;
            row.modelOverheadHours = line->each.modelStartUpHours;
        }
        row.modelGrams += line->each.modelGrams;
        row.modelExtrusionHours += line->each.modelExtrusionHours;
        row.modelOverheadHours += line->each.modelOverheadHours;
        row.actualGrams += r.grams.value_or(0);
        row.actualHours += r.hours.value_or(0);
    }
    core::PrintLog log = m_setup.log;
    for (auto& [key, row] : rows) {
        if (const int others = prints[key] - 1; others > 0)
            row.piece += " and " + std::to_string(others) + " more";
        auto more = log.withRow(std::move(row));
        if (more)
            log = std::move(*more);
        else
            m_bench.refuse(more.problem());
    }
    if (log.rows().size() == m_setup.log.rows().size())
        return;
    if (const Status s = log.save(core::PrintLog::defaultFile()); !s) {
        m_bench.refuse(s.problem());
        return;
    }
    m_setup.log = std::move(log);
    m_bench.say(Note::Severity::Info, tr("weights and hours were added to the log of prints: estimates learn from it"));
    refresh();
}

void PlanController::showMachines()
{
    m_book->readShop();
    if (!m_machinesDialog) {
        m_machinesDialog = new MachinesDialog(m_window);
        m_machinesDialog->setAttribute(Qt::WA_DeleteOnClose);
        connect(m_machinesDialog, &MachinesDialog::machinesGiven, this, &PlanController::takeMachines);
    }
    // Those of this job first, then the others of the shop.
    std::vector<core::Machine> all = m_book->machines();
    std::set<std::string> used;
    for (const core::Machine& m : all)
        used.insert(m.name);
    for (const core::Machine& m : m_book->shop().machines)
        if (std::none_of(all.begin(), all.end(), [&](const auto& x) { return core::sameWord(x.name, m.name); }))
            all.push_back(m);
    m_machinesDialog->setMachines(all, used, currencySymbol());
    m_machinesDialog->show();
    m_machinesDialog->raise();
}

void PlanController::takeMachines(const std::vector<core::Machine>& machines, const std::vector<std::string>& used)
{
    core::Shop shop = m_book->shop();
    shop.machines = machines;
    if (const Status s = m_book->keepShop(shop); !s) {
        m_machinesDialog->showProblem(windowWords(s.problem().sentence()));
        return;
    }
    m_machinesDialog->close();
    editRequest(tr("Machines"), [&](core::PlanDocument& d) {
        d.request.machines.clear();
        for (const core::Machine& m : machines)
            if (std::find(used.begin(), used.end(), m.name) != used.end())
                d.request.machines.push_back(m);
    });
}

void PlanController::showRecipes()
{
    readSetup();
    if (!m_recipeDialog) {
        m_recipeDialog = new RecipeDialog(m_window);
        m_recipeDialog->setAttribute(Qt::WA_DeleteOnClose);
        connect(m_recipeDialog, &RecipeDialog::keepWanted, this, &PlanController::keepRecipe);
        connect(m_recipeDialog, &RecipeDialog::removeWanted, this, &PlanController::removeRecipe);
        connect(m_recipeDialog, &RecipeDialog::useWanted, this, [this](const QString& name) {
            editRequest(tr("Recipe of the job"), [&](core::PlanDocument& d) { d.recipe = name.toStdString(); });
        });
    }
    const std::string& recipe = m_book->document().recipe;
    m_recipeDialog->setBook(m_setup.recipes, QString::fromStdString(recipe.empty() ? core::usualRecipe : recipe));
    m_recipeDialog->show();
    m_recipeDialog->raise();
}

void PlanController::keepRecipe(const core::Recipe& recipe)
{
    const auto more = m_setup.recipes.withRecipe(recipe);
    Status kept = more ? more->save(core::RecipeBook::defaultFile()) : Status(more.problem());
    if (!kept) {
        m_recipeDialog->showProblem(windowWords(kept.problem().sentence()));
        return;
    }
    m_setup.recipes = *more;
    m_recipeDialog->setBook(m_setup.recipes, QString::fromStdString(recipe.name));
    refresh();
}

void PlanController::removeRecipe(const QString& name)
{
    const auto less = m_setup.recipes.withoutRecipe(name.toStdString());
    // A recipe that is in use is missed by the next estimate.
    const core::PlanDocument& d = m_book->document();
    const bool shipped = less && less->find(name.toStdString());
    bool used = core::sameWord(d.recipe, name.toStdString());
    for (const auto& [part, recipe] : d.recipes)
        used = used || core::sameWord(recipe, name.toStdString());
    if (less && used && !shipped) {
        m_recipeDialog->showProblem(
            tr("“%1” is in use: choose another recipe for the job or the part first.").arg(name));
        return;
    }
    Status kept = less ? less->save(core::RecipeBook::defaultFile()) : Status(less.problem());
    if (!kept) {
        m_recipeDialog->showProblem(windowWords(kept.problem().sentence()));
        return;
    }
    m_setup.recipes = *less;
    m_recipeDialog->setBook(m_setup.recipes, name);
    refresh();
}

void PlanController::showPrices()
{
    readSetup();
    m_book->readShop();
    if (!m_pricesDialog) {
        m_pricesDialog = new PricesDialog(m_window);
        m_pricesDialog->setAttribute(Qt::WA_DeleteOnClose);
        connect(m_pricesDialog, &PricesDialog::given, this, &PlanController::takePrices);
    }
    PricesShown shown;
    shown.currency = currencySymbol();
    shown.pricePerKwh = m_book->document().request.pricePerKwh;
    const auto inJob = [this](const core::Filament& f) {
        const auto& parts = m_bench.design().parts;
        return std::any_of(parts.begin(), parts.end(),
                           [&](const core::PartDesign& p) { return core::sameWord(p.material, f.material); });
    };
    std::vector<core::Filament> all = m_setup.filaments.all();
    std::stable_partition(all.begin(), all.end(), inJob);
    for (core::Filament& f : all) {
        PriceLine line{std::move(f), 0, 0, false};
        if (const core::SpoolStock* stock = m_book->shop().spools(line.filament.material)) {
            line.spools = stock->spools;
            line.openGrams = stock->openGrams;
            line.stockKnown = true;
        }
        shown.lines.push_back(std::move(line));
    }
    m_pricesDialog->setShown(shown);
    m_pricesDialog->show();
    m_pricesDialog->raise();
}

void PlanController::takePrices(const PricesShown& prices)
{
    core::FilamentShelf shelf = m_setup.filaments;
    core::Shop shop = m_book->shop();
    Status status = Done{};
    for (const PriceLine& line : prices.lines) {
        const auto was = shelf.find(line.filament.material);
        if (was && !(*was == line.filament)) {
            core::Filament own = line.filament;
            own.priceSource = "the maker's own";
            own.date = core::timeStamp().substr(0, std::string("2026-12-01").size());
            auto more = shelf.withFilament(std::move(own));
            if (more)
                shelf = std::move(*more);
            else if (status)
                status = more.problem();
        }
        const bool had = shop.spools(line.filament.material) != nullptr;
        if (!had && !line.stockKnown)
            continue;
        core::SpoolStock stock{line.filament.material, 0, 0, 0, 0}; // all zero: off the list
        if (line.stockKnown)
            stock = {line.filament.material, line.spools, line.filament.spoolG, line.openGrams,
                     line.filament.pricePerKg};
        auto more = core::withStock(shop, stock);
        if (more)
            shop = std::move(*more);
        else if (status)
            status = more.problem();
    }
    if (status)
        status = shelf.save(core::FilamentShelf::defaultFile());
    if (status)
        status = m_book->keepShop(shop);
    if (!status) {
        m_pricesDialog->showProblem(windowWords(status.problem().sentence()));
        return;
    }
    m_setup.filaments = std::move(shelf);
    QSettings().setValue(QString::fromLatin1(currencyKey), prices.currency);
    m_pricesDialog->close();
    editRequest(tr("Prices and spools"), [&](core::PlanDocument& d) { d.request.pricePerKwh = prices.pricePerKwh; });
}

void PlanController::write(const PlanExportWish& wish)
{
    if (m_writing || !m_plan)
        return;
    m_panel.files().setBusy(true);
    using Outcome = Result<core::PlanFiles>;
    const QString& file = m_bench.document().file();
    const std::string name =
        (file.isEmpty() ? tr("sculpture") : QFileInfo(file).fileName().remove(".quoin.json")).toStdString();
    m_writing = m_bench.jobs().start<Outcome>(
        tr("Writing the plan"),
        [plan = m_plan, name, wish](const Context&) -> Outcome {
            core::PlanFileKinds kinds;
            kinds.tables = wish.csv;
            kinds.calendar = wish.calendar;
            kinds.pictures = wish.pictures;
            const std::filesystem::path folder = pathOf(wish.folder);
            const std::string pdf = "plan.pdf";
            auto files = core::writePlanFiles(*plan, name, core::timeStamp(), folder, kinds,
                                              wish.pdf ? std::vector{pdf} : std::vector<std::string>{});
            if (!files)
                return files;
            if (wish.pdf) {
                if (const Status s = writePlanPdf(*plan, name, folder / pdf); !s)
                    return s.problem();
                files->names.push_back(pdf);
            }
            return files;
        },
        this,
        [this, wish](Outcome outcome) {
            m_panel.files().setBusy(false);
            if (!outcome) {
                m_panel.files().showProblem(windowWords(outcome.problem().sentence()));
                return;
            }
            const QString folder = QDir::toNativeSeparators(wish.folder);
            m_panel.files().showDone(tr("%1 files were written to %2").arg(outcome->names.size()).arg(folder));
            m_bench.say(Note::Severity::Info, tr("the plan was written to %1").arg(folder));
        });
}

} // namespace quoin::ui
