// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/json_place.h"
#include "core/machine.h"
#include "mesh/atomic_file.h"

#include <fmt/format.h>

namespace quoin::core {

namespace fs = std::filesystem;
using nlohmann::json;

namespace {

constexpr const char* fileKind = "quoin machines";
constexpr int fileVersion = 1;
constexpr std::uint64_t mostBytes = 4 << 20;
constexpr std::size_t mostMachines = 200, mostNames = 200, mostAway = 5000, longestText = 1000;
constexpr double anyNumber = 1e9; ///< the machine's own check says what is wrong with a number

std::string dayText(std::chrono::local_days day)
{
    return momentText(Moment(day)).substr(0, std::string("2026-12-01").size());
}

Bed bedFrom(const JsonPlace& place)
{
    const std::string text = place.text(longestText);
    const auto bed = bedFromText(text, {});
    if (!bed)
        place.fail(bed.problem().what);
    return *bed;
}

WorkCalendar calendarFrom(const JsonPlace& place)
{
    WorkCalendar calendar;
    const JsonPlace hours = place.at("attended");
    const auto days = attendedFromText(hours.text(longestText));
    if (!days)
        hours.fail(days.problem().what);
    calendar.days = *days;
    calendar.nights = place.at("nights").truth();
    calendar.weekends = place.at("weekends").truth();
    if (const auto away = place.maybe("away"))
        away->each(mostAway, [&](const JsonPlace& day) {
            const auto moment = momentFromText(day.text(longestText));
            if (!moment)
                day.fail(moment.problem().what);
            calendar.away.push_back(std::chrono::floor<std::chrono::days>(*moment));
        });
    return calendar;
}

} // namespace

json machineJson(const Machine& m)
{
    json away = json::array();
    for (const auto day : m.calendar.away)
        away.push_back(dayText(day));
    json materials = json::array();
    for (const std::string& material : m.materials)
        materials.push_back(textJson(material));
    return {{"name", textJson(m.name)},
            {"bed", sizeWords(m.bed)},
            {"margin_mm", m.marginMm},
            {"gap_mm", m.gapMm},
            {"nozzle_mm", m.nozzleMm},
            {"materials", materials},
            {"speed_factor", m.speedFactor},
            {"cost_per_hour", m.costPerHour},
            {"power_w", m.powerW},
            {"attended", attendedText(m.calendar.days)},
            {"nights", m.calendar.nights},
            {"weekends", m.calendar.weekends},
            {"away", away},
            {"change_minutes", m.changeMinutes},
            {"spool_change_minutes", m.spoolChangeMinutes},
            {"failures_per", m.failure.per == FailureRate::Per::Hour ? "hour" : "print"},
            {"failure_rate", m.failure.rate}};
}

Machine machineFrom(const JsonPlace& place)
{
    const auto number = [&](const char* key) { return place.at(key).number(-anyNumber, anyNumber); };
    Machine m;
    m.name = place.at("name").text(longestText);
    m.bed = bedFrom(place.at("bed"));
    m.marginMm = number("margin_mm");
    m.gapMm = number("gap_mm");
    m.nozzleMm = number("nozzle_mm");
    place.at("materials").each(mostNames, [&](const JsonPlace& p) { m.materials.push_back(p.text(longestText)); });
    m.speedFactor = number("speed_factor");
    m.costPerHour = number("cost_per_hour");
    m.powerW = number("power_w");
    m.calendar = calendarFrom(place);
    m.changeMinutes = number("change_minutes");
    m.spoolChangeMinutes = number("spool_change_minutes");
    const JsonPlace per = place.at("failures_per");
    const std::string word = per.text(longestText);
    if (word != "hour" && word != "print")
        per.fail("this is neither \"hour\" nor \"print\"");
    m.failure = {word == "hour" ? FailureRate::Per::Hour : FailureRate::Per::Print, number("failure_rate")};
    if (const Status good = checkMachine(m); !good)
        place.fail(good.problem().what);
    return m;
}

json stockJson(const SpoolStock& s)
{
    return {{"material", textJson(s.material)},
            {"spools", s.spools},
            {"spool_g", s.spoolGrams},
            {"open_g", s.openGrams},
            {"price_per_kg", s.pricePerKg}};
}

SpoolStock stockFrom(const JsonPlace& place)
{
    const auto number = [&](const char* key) { return place.at(key).number(-anyNumber, anyNumber); };
    SpoolStock s{place.at("material").text(longestText), place.at("spools").wholeInt(0, 100000), number("spool_g"),
                 number("open_g"), number("price_per_kg")};
    if (const Status good = checkStock(s); !good)
        place.fail(good.problem().what);
    return s;
}

fs::path machinesFile()
{
    return BedShelf::defaultFile().parent_path() / "machines.json";
}

Result<Shop> loadShop(const fs::path& file)
{
    std::error_code error;
    if (fs::symlink_status(file, error).type() == fs::file_type::not_found)
        return Shop{};
    const auto document = jsonInFile(file, mostBytes);
    if (!document)
        return document.problem();
    try {
        const JsonPlace root(*document);
        if (root.at("kind").text(longestText) != fileKind)
            root.at("kind").fail("this is no list of machines");
        if (const auto version = root.at("version").whole(1, INT32_MAX); version > fileVersion)
            return Problem{Reason::VersionTooNew,
                           fmt::format("the list of machines is of version {}, and this program knows version {}",
                                       version, fileVersion),
                           file.string(), "/version", "Use a newer version of this program."};
        Shop shop;
        root.at("machines").each(mostMachines, [&](const JsonPlace& place) {
            const Machine m = machineFrom(place);
            if (shop.machine(m.name) != nullptr)
                place.fail("there is an earlier machine of this name");
            shop.machines.push_back(m);
        });
        root.at("stock").each(mostNames, [&](const JsonPlace& place) {
            const SpoolStock s = stockFrom(place);
            if (shop.spools(s.material) != nullptr)
                place.fail("there is an earlier line for this material");
            shop.stock.push_back(s);
        });
        return shop;
    } catch (const JsonPlace::Wrong& wrong) {
        return Problem{Reason::FileMalformed, "the list of machines can't be used: " + wrong.what, file.string(),
                       wrong.place, "Correct the file there, or move it away to start with an empty list."};
    }
}

Status saveShop(const Shop& shop, const fs::path& file)
{
    json machines = json::array(), stock = json::array();
    for (const Machine& m : shop.machines)
        machines.push_back(machineJson(m));
    for (const SpoolStock& s : shop.stock)
        stock.push_back(stockJson(s));
    const json document{{"kind", fileKind}, {"version", fileVersion}, {"machines", machines}, {"stock", stock}};
    std::error_code error;
    if (file.has_parent_path())
        fs::create_directories(file.parent_path(), error);
    if (error)
        return Problem{Reason::FileUnwritable, "the folder can't be made: " + error.message(),
                       file.parent_path().string(), "", "Check the permissions of the folder above."};
    return mesh::writeAtomically(file, document.dump(2) + "\n");
}

} // namespace quoin::core
