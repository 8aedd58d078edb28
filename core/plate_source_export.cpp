// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/json_place.h"
#include "core/plate_source_parts.h"
#include "mesh/model_file.h"

#include <optional>

namespace quoin::core {

namespace fs = std::filesystem;

namespace {

constexpr std::uint64_t mostBytes = 512ull << 20;
constexpr std::size_t mostItems = 1'000'000, longestText = 4000;
constexpr int mostNumber = 10'000'000, mostCopies = 10'000;

Result<PlateLine> lineFrom(const JsonPlace& place, const PartLines& part, const std::string& material,
                           const fs::path& folder, const Context& context)
{
    PlateLine line;
    line.part = part.name;
    line.material = material;
    line.number = place.at("number").wholeInt(1, mostNumber);
    line.kind = place.at("kind").text(longestText);
    line.name = place.at("name").text(longestText);
    line.count = place.at("count").wholeInt(1, mostCopies);
    line.standsFlat = place.at("stands_flat").truth();
    place.at("neighbours").each(mostItems, [&](const JsonPlace& n) {
        line.neighbours.push_back(n.wholeInt(1, mostNumber));
    });
    place.at("joints").each(mostItems, [&](const JsonPlace& j) {
        if (const auto mark = j.maybe("mark"))
            line.marks.insert(mark->text(longestText));
    });
    const std::string file = place.at("file").text(longestText);
    const fs::path relative = fs::path(file).lexically_normal();
    if (relative.is_absolute() || relative.empty() || *relative.begin() == "..")
        place.at("file").fail("the file lies outside the export");
    line.file = (folder / relative).string();
    auto model = mesh::readModel(line.file, {}, context);
    if (!model)
        return model.problem();
    line.mesh = std::move(model->mesh);
    return line;
}

/// In which step each piece is first touched; an export without an order has none.
std::map<int, int> stepsIn(const fs::path& folder)
{
    std::map<int, int> out;
    const auto document = jsonInFile(folder / "project.quoin.json", mostBytes);
    if (!document)
        return out;
    try {
        int step = 0;
        JsonPlace(*document).at("assembly").at("steps").each(mostItems, [&](const JsonPlace& s) {
            ++step;
            for (const char* side : {"onto", "moving"})
                s.at(side).each(mostItems, [&](const JsonPlace& n) { out.emplace(n.wholeInt(1, mostNumber), step); });
        });
    } catch (const JsonPlace::Wrong&) {
        return {}; // an order is a wish here, and the proof speaks of it
    }
    return out;
}

} // namespace

Result<PartLines> partInExport(const fs::path& folder, const Context& context)
{
    const fs::path list = folder / "pieces.json";
    const auto document = jsonInFile(list, mostBytes);
    if (!document)
        return document.problem();
    try {
        const JsonPlace root(*document);
        PartLines part;
        part.name = root.at("part").text(longestText);
        const std::string material = root.at("material").text(longestText);
        std::optional<Problem> problem;
        root.at("pieces").each(mostItems, [&](const JsonPlace& place) {
            if (problem)
                return;
            auto line = lineFrom(place, part, material, folder, context);
            if (line)
                part.lines.push_back(std::move(*line));
            else
                problem = line.problem();
        });
        if (problem)
            return *problem;
        part.step = stepsIn(folder);
        return part;
    } catch (const JsonPlace::Wrong& wrong) {
        return Problem{Reason::FileMalformed, "the parts list can't be used: " + wrong.what, list.string(), wrong.place,
                       "Export it again."};
    }
}

std::map<std::string, int> demoQuantities(const fs::path& folder)
{
    std::map<std::string, int> out;
    const auto document = jsonInFile(folder / "demo.json", mostBytes);
    if (!document)
        return out;
    try {
        JsonPlace(*document).each(mostItems, [&](const JsonPlace& p) {
            out[p.at("part").text(longestText)] = p.at("quantity").wholeInt(1, mostCopies);
        });
    } catch (const JsonPlace::Wrong&) {
        out.clear();
    }
    return out;
}

} // namespace quoin::core
