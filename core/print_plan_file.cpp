// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/print_plan_file.h"

#include "core/calendar_file.h"
#include "core/json_place.h"
#include "core/same_word.h"
#include "mesh/atomic_file.h"

#include <fmt/format.h>

#include <algorithm>

namespace quoin::core {

namespace fs = std::filesystem;
using nlohmann::json;

namespace {

constexpr const char* fileKind = "quoin plan";
constexpr int fileVersion = 1;
constexpr std::uint64_t mostBytes = 64 << 20;
constexpr std::size_t mostItems = 100'000, longestText = 2000;
constexpr int mostCopies = 1000;
constexpr int mostPlatePictures = 1000;
constexpr const char* planMark = "plan.json"; ///< tells a plan's folder, with writtenKind in it
constexpr const char* writtenKind = "quoin print plan";

std::string testsText(TestFits tests)
{
    return tests == TestFits::Never ? "never" : tests == TestFits::First ? "first" : "first and wait";
}

TestFits testsFrom(const JsonPlace& place)
{
    const std::string text = place.text(longestText);
    for (const TestFits t : {TestFits::Never, TestFits::First, TestFits::FirstAndWait})
        if (text == testsText(t))
            return t;
    place.fail("this is none of \"never\", \"first\" and \"first and wait\"");
}

Moment momentFrom(const JsonPlace& place)
{
    const auto moment = momentFromText(place.text(longestText));
    if (!moment)
        place.fail(moment.problem().what);
    return *moment;
}

json reportJson(const PieceReport& r)
{
    json j{{"piece", textJson(r.piece)},
           {"state", stateName(r.state)},
           {"at", momentText(r.at)},
           {"machine", textJson(r.machine)}};
    if (r.grams)
        j["grams"] = *r.grams;
    if (r.hours)
        j["hours"] = *r.hours;
    return j;
}

PieceReport reportFrom(const JsonPlace& place)
{
    PieceReport r;
    r.piece = place.at("piece").text(longestText);
    const JsonPlace state = place.at("state");
    const auto found = stateFromText(state.text(longestText));
    if (!found)
        state.fail(found.problem().what);
    r.state = *found;
    r.at = momentFrom(place.at("at"));
    r.machine = place.at("machine").text(longestText);
    if (const auto grams = place.maybe("grams"))
        r.grams = grams->number(0, 1e6);
    if (const auto hours = place.maybe("hours"))
        r.hours = hours->number(0, 1e4);
    return r;
}

json documentJson(const PlanDocument& d)
{
    json machines = json::array(), reports = json::array(), first = json::array(), quantities = json::object(),
         plates = json::array(), recipes = json::object();
    for (const auto& plate : d.plates) {
        json ids = json::array();
        for (const std::string& id : plate)
            ids.push_back(textJson(id));
        plates.push_back(ids);
    }
    for (const Machine& m : d.request.machines)
        machines.push_back(machineJson(m));
    for (const PieceReport& r : d.request.progress.reports)
        reports.push_back(reportJson(r));
    for (const std::string& f : d.first)
        first.push_back(textJson(f));
    for (const auto& [part, n] : d.quantities)
        quantities[part] = n;
    for (const auto& [part, recipe] : d.recipes)
        recipes[part] = textJson(recipe);
    json out{{"kind", fileKind},
             {"version", fileVersion},
             {"start", momentText(d.request.start)},
             {"machines", machines},
             {"test_fits", testsText(d.request.testFits)},
             {"alone_over_h", d.request.plates.aloneOverHours},
             {"tall_alone_mm", d.request.plates.tallAloneMm},
             {"price_per_kwh", d.request.pricePerKwh},
             {"seed", d.request.seed},
             {"sturdy", d.request.sturdy},
             {"recipe", textJson(d.recipe)},
             {"recipes", recipes},
             {"first", first},
             {"quantities", quantities},
             {"coupon", textJson(d.coupon)},
             {"plates", plates},
             {"reports", reports}};
    if (d.request.deadline)
        out["deadline"] = momentText(*d.request.deadline);
    if (d.request.plates.mostHours)
        out["shared_most_h"] = *d.request.plates.mostHours;
    return out;
}

PlanDocument documentFrom(const JsonPlace& root, const json& raw)
{
    PlanDocument d;
    d.request.start = momentFrom(root.at("start"));
    if (const auto deadline = root.maybe("deadline"))
        d.request.deadline = momentFrom(*deadline);
    root.at("machines").each(mostItems, [&](const JsonPlace& p) { d.request.machines.push_back(machineFrom(p)); });
    d.request.testFits = testsFrom(root.at("test_fits"));
    d.request.plates.aloneOverHours = root.at("alone_over_h").number(0, 1e5);
    d.request.plates.tallAloneMm = root.at("tall_alone_mm").number(0, 1e6);
    if (const auto most = root.maybe("shared_most_h"))
        d.request.plates.mostHours = most->number(0, 1e5);
    d.request.pricePerKwh = root.at("price_per_kwh").number(0, 1e6);
    d.request.seed = static_cast<std::uint64_t>(root.at("seed").whole(0, INT64_MAX));
    d.request.sturdy = root.at("sturdy").truth();
    d.recipe = root.at("recipe").text(longestText);
    root.at("first").each(mostItems, [&](const JsonPlace& p) { d.first.push_back(p.text(longestText)); });
    const JsonPlace quantities = root.at("quantities");
    if (!raw.at("quantities").is_object())
        quantities.fail("an object was expected");
    for (const auto& [part, n] : raw.at("quantities").items())
        d.quantities[part] = quantities.at(part.c_str()).wholeInt(1, mostCopies);
    if (const auto recipes = root.maybe("recipes")) { // earlier plans have none
        if (!raw.at("recipes").is_object())
            recipes->fail("an object was expected");
        for (const auto& [part, recipe] : raw.at("recipes").items())
            d.recipes[part] = recipes->at(part.c_str()).text(longestText);
    }
    d.coupon = root.at("coupon").text(longestText);
    root.at("plates").each(mostItems, [&](const JsonPlace& plate) {
        d.plates.emplace_back();
        plate.each(mostItems, [&](const JsonPlace& id) { d.plates.back().push_back(id.text(longestText)); });
    });
    root.at("reports").each(mostItems, [&](const JsonPlace& p) {
        auto more = withReport(d.request.progress, reportFrom(p));
        if (!more)
            p.fail(more.problem().what);
        d.request.progress = std::move(*more);
    });
    return d;
}

} // namespace

PlanDocument withPlates(PlanDocument document, const PrintPlan& plan)
{
    document.plates.clear();
    for (const Plate& plate : plan.plates) {
        document.plates.emplace_back();
        for (const PlatePiece& p : plate.pieces)
            document.plates.back().push_back(plan.job.pieces[p.piece].id);
    }
    return document;
}

Result<std::vector<PieceReport>> reportsFor(const PlateJob& job, const PlanDocument& document, const std::string& what,
                                            const PieceReport& said)
{
    std::vector<std::string> ids;
    for (std::size_t n = 0; n < document.plates.size(); ++n)
        if (sameWord(what, fmt::format("plate {}", n + 1)))
            ids = document.plates[n];
    std::vector<const PlatePieceInfo*> pieces;
    double grams = 0, hours = 0;
    for (const PlatePieceInfo& p : job.pieces) {
        const bool isIt = ids.empty() ? pieces.empty() && (p.id == what || p.name == what)
                                      : std::find(ids.begin(), ids.end(), p.id) != ids.end();
        if (!isIt)
            continue;
        pieces.push_back(&p);
        grams += p.figures.grams;
        hours += p.figures.hours;
    }
    if (pieces.empty())
        return Problem{Reason::BadArgument,
                       fmt::format("there is no piece \"{}\", and no such plate in the last plan", what),
                       {},
                       {},
                       "The plan's pieces.csv lists the pieces; a plate is named like \"plate 3\"."};
    std::vector<PieceReport> out;
    for (const PlatePieceInfo* p : pieces) {
        PieceReport report = said;
        report.piece = p->id;
        if (said.grams && grams > 0)
            report.grams = *said.grams * p->figures.grams / grams;
        // What is being printed keeps its machine busy for the whole plate.
        if (said.hours && hours > 0 && said.state != PieceState::Printing)
            report.hours = *said.hours * p->figures.hours / hours;
        out.push_back(std::move(report));
    }
    return out;
}

fs::path planFileOf(const fs::path& job)
{
    constexpr std::string_view designEnd = ".quoin.json";
    fs::path path = job;
    if (path.filename().empty()) // "heron/"
        path = path.parent_path();
    std::string name = path.filename().string();
    if (name == "." || name == ".." || name.empty()) {
        path = fs::absolute(path).lexically_normal();
        if (path.filename().empty())
            path = path.parent_path();
        name = path.filename().string();
    }
    if (name.size() > designEnd.size() && name.ends_with(designEnd))
        name.resize(name.size() - designEnd.size());
    return path.parent_path() / (name + ".plan.json");
}

Result<PlanDocument> loadPlan(const fs::path& file)
{
    const auto document = jsonInFile(file, mostBytes);
    if (!document)
        return document.problem();
    try {
        const JsonPlace root(*document);
        if (root.at("kind").text(longestText) != fileKind)
            root.at("kind").fail("this is no plan");
        if (const auto version = root.at("version").whole(1, INT32_MAX); version > fileVersion)
            return Problem{
                Reason::VersionTooNew,
                fmt::format("the plan is of version {}, and this program knows version {}", version, fileVersion),
                file.string(), "/version", "Use a newer version of this program."};
        return documentFrom(root, *document);
    } catch (const JsonPlace::Wrong& wrong) {
        return Problem{Reason::FileMalformed, "the plan can't be used: " + wrong.what, file.string(), wrong.place,
                       "Correct the file there, or move it away to plan afresh."};
    }
}

Status savePlan(const PlanDocument& document, const fs::path& file)
{
    std::error_code error;
    if (fs::exists(file, error)) {
        const auto there = jsonInFile(file, mostBytes);
        if (!there || !there->is_object() || there->value("kind", "") != fileKind)
            return Problem{
                Reason::FileExists, "something other than a plan has this name", file.string(), {}, "Move it away."};
    }
    return mesh::writeAtomically(file, documentJson(document).dump(2) + "\n");
}

namespace {

/// A folder that an earlier plan was written into.
bool isPlanFolder(const fs::path& folder)
{
    std::error_code error;
    if (!fs::exists(folder / planMark, error))
        return false;
    const auto there = jsonInFile(folder / planMark, mostBytes);
    return there && there->is_object() && there->value("kind", "") == writtenKind;
}

} // namespace

Result<PlanFiles> writePlanFiles(const PrintPlan& plan, const std::string& name, const std::string& stampUtc,
                                 const fs::path& folder, const PlanFileKinds& kinds,
                                 const std::vector<std::string>& others)
{
    std::error_code error;
    fs::create_directories(folder, error);
    if (error)
        return Problem{Reason::FileUnwritable,
                       "can't write here: " + error.message(),
                       folder.string(),
                       {},
                       "Choose another folder."};
    std::vector<std::pair<std::string, std::string>> files{
        {planMark, planJson(plan).dump(1, ' ', false, json::error_handler_t::replace) + "\n"}};
    if (kinds.tables) {
        files.emplace_back("plan.csv", planCsv(plan));
        files.emplace_back("pieces.csv", piecesCsv(plan));
    }
    if (kinds.calendar)
        files.emplace_back("plan.ics", calendarText(calendarEvents(plan, name), name, stampUtc));
    if (kinds.pictures)
        files.emplace_back("chart.svg", chartSvg(plan));
    for (std::size_t i = 0; kinds.pictures && i < plan.plates.size(); ++i)
        files.emplace_back(fmt::format("plate-{:02}.svg", plan.plates[i].number), plateSvg(plan, i));
    const bool ours = isPlanFolder(folder);
    std::vector<std::string> names = others;
    for (const auto& [file, content] : files)
        names.push_back(file);
    for (const std::string& file : names)
        if (!ours && fs::exists(folder / file, error))
            return Problem{Reason::FileExists,
                           "this is there already, in a folder that no plan was written into",
                           (folder / file).string(),
                           {},
                           "Choose another folder, or move it away."};
    PlanFiles out;
    for (const auto& [file, content] : files) {
        if (const Status s = mesh::writeAtomically(folder / file, content); !s)
            return s.problem();
        out.names.push_back(file);
    }
    for (int n = static_cast<int>(plan.plates.size()) + 1; ours && kinds.pictures && n <= mostPlatePictures; ++n)
        if (!fs::remove(folder / fmt::format("plate-{:02}.svg", n), error))
            break;
    return out;
}

} // namespace quoin::core
