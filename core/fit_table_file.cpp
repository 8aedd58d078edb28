// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/bed.h"
#include "core/fit_json.h"
#include "core/json_place.h"
#include "mesh/atomic_file.h"

#include <fmt/format.h>

namespace quoin::core {

namespace fs = std::filesystem;

namespace {

using Json = nlohmann::ordered_json;

constexpr const char* fileKind = "quoin fits";
constexpr int fileVersion = 1;
constexpr std::uint64_t mostBytes = 4 << 20;
constexpr std::size_t mostRows = 5000, longestText = 1000;
constexpr double anyNumberMm = 1e9; ///< the row's own check says what is wrong with a number

/// A text as JSON, also when it isn't UTF-8.
Json textOf(const std::string& text)
{
    return Json::parse(textJson(text).dump());
}

} // namespace

Json fitRowJson(const FitRow& row)
{
    return {{"material", textOf(row.material)},
            {"machine", textOf(row.machine)},
            {"process", processName(row.process)},
            {"free_mm", row.freeMm},
            {"sliding_mm", row.slidingMm},
            {"snug_mm", row.snugMm},
            {"press_mm", row.pressMm},
            {"source", textOf(row.source)},
            {"date", textOf(row.date)}};
}

FitRow fitRowFrom(const JsonPlace& place)
{
    const auto number = [&](const char* key) { return place.at(key).number(-anyNumberMm, anyNumberMm); };
    const auto text = [&](const char* key) {
        const auto there = place.maybe(key);
        return there ? there->text(longestText) : std::string();
    };
    const JsonPlace processPlace = place.at("process");
    const auto process = processFromText(processPlace.text(longestText));
    if (!process)
        processPlace.fail(process.problem().what);
    FitRow row{text("material"),  text("machine"),    *process,       number("free_mm"), number("sliding_mm"),
               number("snug_mm"), number("press_mm"), text("source"), text("date")};
    if (const Status good = checkFitRow(row); !good)
        place.fail(good.problem().what);
    return row;
}

fs::path FitTable::defaultFile()
{
    return BedShelf::defaultFile().parent_path() / "fits.json";
}

Result<FitTable> FitTable::load(const fs::path& file)
{
    std::error_code error;
    if (fs::symlink_status(file, error).type() == fs::file_type::not_found)
        return FitTable{};
    const auto document = jsonInFile(file, mostBytes);
    if (!document)
        return document.problem();
    try {
        const JsonPlace root(*document);
        if (root.at("kind").text(longestText) != fileKind)
            root.at("kind").fail("this is no table of fits");
        if (const auto version = root.at("version").whole(1, INT32_MAX); version > fileVersion)
            return Problem{Reason::VersionTooNew,
                           fmt::format("the table of fits is of version {}, and this program knows version {}", version,
                                       fileVersion),
                           file.string(), "/version", "Use a newer version of this program."};
        FitTable table;
        root.at("rows").each(mostRows, [&](const JsonPlace& place) {
            const std::size_t before = table.m_own.size();
            auto more = table.withRow(fitRowFrom(place));
            if (more->own().size() == before)
                place.fail("there is an earlier row for the same material, machine and process");
            table = std::move(*more);
        });
        return table;
    } catch (const JsonPlace::Wrong& wrong) {
        return Problem{Reason::FileMalformed, "the table of fits can't be used: " + wrong.what, file.string(),
                       wrong.place, "Correct the file there, or move it away to start with the shipped fits."};
    }
}

Status FitTable::save(const fs::path& file) const
{
    Json rows = Json::array();
    for (const FitRow& row : m_own)
        rows.push_back(fitRowJson(row));
    const Json document{{"kind", fileKind}, {"version", fileVersion}, {"rows", rows}};
    std::error_code error;
    if (file.has_parent_path())
        fs::create_directories(file.parent_path(), error);
    if (error)
        return Problem{Reason::FileUnwritable, "the folder can't be made: " + error.message(),
                       file.parent_path().string(), "", "Check the permissions of the folder above."};
    return mesh::writeAtomically(file, document.dump(2) + "\n");
}

} // namespace quoin::core
