// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/json_place.h"
#include "core/print_plan.h"

#include <fmt/format.h>

namespace quoin::core {

using nlohmann::json;

namespace {

json optionalNumber(const std::optional<double>& v)
{
    return v ? json(*v) : json(nullptr);
}

json plateJson(const PrintPlan& plan, const Plate& plate)
{
    json pieces = json::array();
    for (const PlatePiece& p : plate.pieces)
        pieces.push_back(
            {{"id", textJson(plan.job.pieces[p.piece].id)}, {"turn_rad", p.turn}, {"x_mm", p.at.x}, {"y_mm", p.at.y}});
    return {{"number", plate.number},
            {"material", textJson(plate.material)},
            {"recipe", textJson(plate.recipe)},
            {"hours", plate.hours},
            {"likely_hours", {plate.lowHours, plate.highHours}},
            {"grams", plate.grams},
            {"height_mm", plate.heightMm},
            {"filled_share", plate.filledShare},
            {"reason", textJson(plate.reason)},
            {"pieces", pieces}};
}

json barJson(const PrintPlan& plan, const PlanBar& bar)
{
    return {{"plate", plan.plates[bar.plate].number},
            {"machine", textJson(plan.request.machines[bar.machine].name)},
            {"change", momentText(bar.change)},
            {"start", momentText(bar.start)},
            {"end", momentText(bar.end)},
            {"taken_off", momentText(bar.ready)},
            {"ends_attended", bar.endsAttended},
            {"hours", bar.hours},
            {"grams", bar.grams},
            {"fail_chance", bar.failChance}};
}

json chanceJson(const PlanChance& chance)
{
    json days = json::array();
    for (const PlanChance::Bar& b : chance.days)
        days.push_back({{"day", momentText(b.day).substr(0, 10)}, {"share", b.share}});
    return {{"runs", chance.simulation.runs},
            {"kept", optionalNumber(chance.kept)},
            {"half_ready_by", momentText(chance.likely)},
            {"nine_of_ten_ready_by", momentText(chance.late)},
            {"mean_failures", chance.simulation.meanFailures},
            {"mean_lost_hours", chance.simulation.meanLostHours},
            {"mean_lost_grams", chance.simulation.meanLostGrams},
            {"days", days},
            {"words", chance.words}};
}

json listJson(const PrintPlan& plan)
{
    json help = json::array(), spools = json::array(), changes = json::array(), left = json::array(),
         notes = json::array();
    for (const PlanHelp& h : plan.help)
        help.push_back({{"kind", h.kind},
                        {"words", textJson(h.words)},
                        {"finish", momentText(h.finish)},
                        {"hours_gained", h.hoursGained},
                        {"pieces_gained", h.piecesGained},
                        {"chance", optionalNumber(h.chance)},
                        {"chance_gained", optionalNumber(h.chanceGained)},
                        {"assumption", h.assumption}});
    for (const SpoolNeed& s : plan.spools)
        spools.push_back({{"material", textJson(s.material)},
                          {"grams", s.grams},
                          {"spare_grams", s.spareGrams},
                          {"stock_grams", s.stockKnown ? json(s.stockGrams) : json(nullptr)},
                          {"buy_spools", s.buySpools},
                          {"spool_grams", s.spoolGrams},
                          {"short_from", s.shortFrom ? json(momentText(*s.shortFrom)) : json(nullptr)},
                          {"cost", s.cost},
                          {"words", textJson(s.words)}});
    for (const SpoolChange& c : plan.spoolChanges)
        changes.push_back({{"machine", textJson(plan.request.machines[c.machine].name)},
                           {"plate", plan.plates[plan.bars[c.bar].plate].number},
                           {"at", momentText(c.at)},
                           {"material", textJson(c.material)},
                           {"before_start", c.beforeStart},
                           {"attended", c.attended},
                           {"words", textJson(c.words)}});
    for (const PlanLeft& l : plan.left)
        left.push_back({{"id", textJson(plan.job.pieces[l.piece].id)}, {"why", textJson(l.why)}});
    for (const Note& n : plan.notes)
        notes.push_back(textJson(n.text));
    return {{"help", help},       {"spools", spools}, {"spool_changes", changes},
            {"cant_print", left}, {"notes", notes},   {"cautions", plan.cautions}};
}

/// RFC 4180: quoted, quotes doubled. A field that a spreadsheet would take for a formula is given a quote mark first.
std::string csvField(const std::string& text)
{
    std::string out = "\"";
    if (!text.empty() && std::string("=+-@").find(text.front()) != std::string::npos)
        out += "'";
    for (const char c : text)
        out += c == '"' ? std::string("\"\"") : std::string(1, c);
    return out + "\"";
}

const PlanBar* barOf(const PrintPlan& plan, std::size_t plate)
{
    for (const PlanBar& b : plan.bars)
        if (b.plate == plate)
            return &b;
    return nullptr;
}

} // namespace

json planJson(const PrintPlan& plan)
{
    json plates = json::array(), bars = json::array(), machines = json::array();
    for (const Plate& p : plan.plates)
        plates.push_back(plateJson(plan, p));
    for (const PlanBar& b : plan.bars)
        bars.push_back(barJson(plan, b));
    for (std::size_t m = 0; m < plan.use.size(); ++m)
        machines.push_back({{"name", textJson(plan.request.machines[m].name)},
                            {"plates", plan.use[m].plates},
                            {"hours", plan.use[m].hours},
                            {"grams", plan.use[m].grams},
                            {"energy_kwh", plan.use[m].energyKwh},
                            {"cost", plan.use[m].cost},
                            {"busy_share", plan.use[m].busyShare},
                            {"spool_changes", plan.use[m].spoolChanges}});
    json out{{"kind", "quoin print plan"},
             {"version", 1},
             {"start", momentText(plan.request.start)},
             {"deadline", plan.request.deadline ? json(momentText(*plan.request.deadline)) : json(nullptr)},
             {"finish", momentText(plan.finish)},
             {"keeps_deadline", plan.keepsDeadline ? json(*plan.keepsDeadline) : json(nullptr)},
             {"earliest_proved", momentText(plan.earliest)},
             {"earliest_proved_by", plan.earliestWords},
             {"order_optimal", plan.optimal},
             {"order_found_by", plan.how},
             {"least_plates_proved", plan.leastPlates},
             {"least_plates_by", plan.leastPlatesWords},
             {"shared_plates", plan.sharedWords},
             {"grams", plan.grams},
             {"hours", plan.hours},
             {"energy_kwh", plan.energyKwh},
             {"cost", plan.cost},
             {"pieces", plan.piecesAll},
             {"pieces_done", plan.piecesDone},
             {"printed_grams", plan.printedGrams},
             {"printed_hours", plan.printedHours},
             {"reprints",
              {{"failures", plan.reprints.failures},
               {"hours", plan.reprints.hours},
               {"grams", plan.reprints.grams},
               {"words", plan.reprints.words}}},
             {"chance", plan.chance ? chanceJson(*plan.chance) : json(nullptr)},
             {"machines", machines},
             {"plates", plates},
             {"bars", bars},
             {"verdict", textJson(plan.verdict)}};
    out.update(listJson(plan));
    return out;
}

std::string planCsv(const PrintPlan& plan)
{
    std::string out =
        "plate,machine,change,start,end,taken_off,hours,grams,material,recipe,pieces,fail_chance,reason\r\n";
    for (std::size_t i = 0; i < plan.plates.size(); ++i) {
        const Plate& p = plan.plates[i];
        std::string pieces;
        for (const PlatePiece& piece : p.pieces)
            pieces += (pieces.empty() ? "" : "; ") + plan.job.pieces[piece.piece].id;
        const PlanBar* b = barOf(plan, i);
        const auto when = [&](Moment PlanBar::*moment) {
            return b != nullptr ? momentText(b->*moment) : std::string();
        };
        out += fmt::format("{},{},{},{},{},{},{:.2f},{:.1f},{},{},{},{:.4f},{}\r\n", p.number,
                           csvField(b != nullptr ? plan.request.machines[b->machine].name : ""), when(&PlanBar::change),
                           when(&PlanBar::start), when(&PlanBar::end), when(&PlanBar::ready),
                           b != nullptr ? b->hours : p.hours, p.grams, csvField(p.material), csvField(p.recipe),
                           csvField(pieces), b != nullptr ? b->failChance : 0.0, csvField(p.reason));
    }
    return out;
}

std::string piecesCsv(const PrintPlan& plan)
{
    std::string out = "piece,name,plate,machine,start,taken_off,hours,grams,material,recipe,file\r\n";
    for (std::size_t i = 0; i < plan.plates.size(); ++i) {
        const PlanBar* b = barOf(plan, i);
        for (const PlatePiece& place : plan.plates[i].pieces) {
            const PlatePieceInfo& p = plan.job.pieces[place.piece];
            out += fmt::format(
                "{},{},{},{},{},{},{:.2f},{:.1f},{},{},{}\r\n", csvField(p.id), csvField(p.name), plan.plates[i].number,
                csvField(b != nullptr ? plan.request.machines[b->machine].name : ""),
                b != nullptr ? momentText(b->start) : "", b != nullptr ? momentText(b->ready) : "", p.figures.hours,
                p.figures.grams, csvField(p.material), csvField(p.figures.recipe), csvField(p.file));
        }
    }
    return out;
}

} // namespace quoin::core
