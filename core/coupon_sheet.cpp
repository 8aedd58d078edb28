// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/coupon_sheet.h"

#include <fmt/format.h>

#include <cmath>

namespace quoin::core {

namespace {

constexpr const char* sheetKind = "quoin fit coupon";
constexpr int sheetVersion = 1;
constexpr std::uint64_t mostBytes = 1 << 20;
constexpr std::size_t longestText = 400, mostPockets = 1000;
constexpr double mostMm = 1e5;
constexpr int mostSteps = 1000;

using Json = nlohmann::ordered_json;

Json textOf(const std::string& text)
{
    return Json::parse(textJson(text).dump());
}

CouponPair pairFrom(const JsonPlace& place)
{
    const std::string name = place.text(longestText);
    for (const CouponPair pair : couponPairs)
        if (pairName(pair) == name)
            return pair;
    place.fail(fmt::format("\"{}\" is no pair of a coupon", name));
}

CouponPocket pocketFrom(const JsonPlace& place, int steps)
{
    return {pairFrom(place.at("pair")),
            place.at("number").wholeInt(1, steps),
            {place.at("x_mm").number(-mostMm, mostMm), place.at("y_mm").number(-mostMm, mostMm),
             place.at("z_mm").number(-mostMm, mostMm)},
            place.at("clearance_per_side_mm").number(0, mostMm),
            place.at("measured_mm").number(-mostMm, mostMm)};
}

CouponSheet sheetFrom(const JsonPlace& root)
{
    CouponSheet sheet;
    sheet.material = root.at("material").text(longestText);
    sheet.machine = root.at("machine").text(longestText);
    sheet.date = root.at("date").text(longestText);
    sheet.fromMm = root.at("step_1_mm").number(0, mostMm);
    sheet.stepMm = root.at("step_mm").number(0, mostMm);
    sheet.steps = root.at("steps").wholeInt(1, mostSteps);
    sheet.dowelMm = root.at("dowel_mm").number(0, mostMm);
    sheet.keyMm = root.at("key_mm").number(0, mostMm);
    sheet.thread = root.at("thread").text(longestText);
    root.at("pockets").each(mostPockets, [&](const JsonPlace& place) {
        sheet.pockets.push_back(pocketFrom(place, sheet.steps));
        // What the row is made of, against what the pocket was made with.
        if (std::abs(sheet.pockets.back().clearanceMm - sheet.clearanceMm(sheet.pockets.back().number)) > 1e-3)
            place.fail("the pocket's clearance is not that of its number");
    });
    return sheet;
}

} // namespace

Json couponJson(const Coupon& coupon)
{
    const CouponSheet& sheet = coupon.sheet;
    Json numbers = Json::array(), pockets = Json::array(), files = Json::array();
    for (int n = 1; n <= sheet.steps; ++n)
        numbers.push_back({{"number", n}, {"clearance_per_side_mm", sheet.clearanceMm(n)}});
    for (const CouponPocket& p : sheet.pockets)
        pockets.push_back({{"pair", pairName(p.pair)},
                           {"number", p.number},
                           {"x_mm", p.mouth.x},
                           {"y_mm", p.mouth.y},
                           {"z_mm", p.mouth.z},
                           {"clearance_per_side_mm", sheet.clearanceMm(p.number)},
                           {"measured_mm", std::round(1e5 * p.measuredMm) / 1e5}});
    for (const CouponPart& part : coupon.parts)
        files.push_back({{"name", part.name}, {"file", part.file}});
    return {{"kind", sheetKind},
            {"version", sheetVersion},
            {"date", sheet.date},
            {"material", textOf(sheet.material)},
            {"machine", textOf(sheet.machine)},
            {"step_1_mm", sheet.fromMm},
            {"step_mm", sheet.stepMm},
            {"steps", sheet.steps},
            {"dowel_mm", sheet.dowelMm},
            {"key_mm", sheet.keyMm},
            {"thread", sheet.thread},
            {"numbers", numbers},
            {"pockets", pockets},
            {"files", files}};
}

bool isCouponSheet(const std::filesystem::path& file)
{
    const auto document = jsonInFile(file, mostBytes);
    return document && document->is_object() && document->contains("kind") && (*document)["kind"] == sheetKind;
}

Result<CouponSheet> readCouponSheet(const std::filesystem::path& folder)
{
    std::error_code error;
    const std::filesystem::path file = std::filesystem::is_directory(folder, error) ? folder / couponSheetName : folder;
    const auto document = jsonInFile(file, mostBytes);
    if (!document)
        return document.problem();
    try {
        const JsonPlace root(*document);
        if (root.at("kind").text(longestText) != sheetKind)
            root.at("kind").fail("this is no sheet of a fit coupon");
        if (const auto version = root.at("version").whole(1, INT32_MAX); version > sheetVersion)
            return Problem{Reason::VersionTooNew,
                           fmt::format("the coupon's sheet is of version {}, and this program knows version {}",
                                       version, sheetVersion),
                           file.string(), "/version", "Use a newer version of this program."};
        return sheetFrom(root);
    } catch (const JsonPlace::Wrong& wrong) {
        return Problem{Reason::FileMalformed, "the coupon's sheet can't be used: " + wrong.what, file.string(),
                       wrong.place, "Correct the file there, or make the coupon again with the same options."};
    }
}

} // namespace quoin::core
