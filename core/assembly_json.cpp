// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/assembly_json.h"

#include <cmath>

namespace quoin::core {

namespace {

using nlohmann::json;

constexpr double farthestMm = 1e6;
constexpr std::size_t longestText = 20'000;
constexpr std::size_t mostItems = 1'000'000;
constexpr double unitError = 1e-6;

json vectorJson(mesh::Vec3 v)
{
    return {v.x, v.y, v.z};
}

mesh::Vec3 vectorFrom(const JsonPlace& place, double most)
{
    std::vector<double> v;
    if (place.each(3, [&](const JsonPlace& item) { v.push_back(item.number(-most, most)); }) != 3)
        place.fail("three numbers are needed");
    return {v[0], v[1], v[2]};
}

json motionJson(const Motion& m)
{
    json j{{"direction", vectorJson(m.direction)}, {"travel_mm", m.travelMm}};
    if (m.kind == Motion::Kind::Helix) {
        j["axis_point"] = vectorJson(m.point);
        j["lead_mm"] = m.leadMm;
    }
    return j;
}

Motion motionFrom(const JsonPlace& place)
{
    Motion m;
    m.direction = vectorFrom(place.at("direction"), 1 + unitError);
    if (std::abs(mesh::length(m.direction) - 1) > unitError)
        place.at("direction").fail("a direction has the length 1");
    m.travelMm = place.at("travel_mm").number(0, farthestMm);
    if (const auto lead = place.maybe("lead_mm")) {
        m.kind = Motion::Kind::Helix;
        m.leadMm = lead->number(-farthestMm, farthestMm);
        if (m.leadMm == 0)
            lead->fail("a helix has a lead");
        m.point = vectorFrom(place.at("axis_point"), farthestMm);
    }
    return m;
}

std::vector<int> piecesFrom(const JsonPlace& place, int pieces)
{
    std::vector<int> numbers;
    place.each(mostItems, [&](const JsonPlace& item) { numbers.push_back(item.wholeInt(1, pieces)); });
    for (std::size_t i = 1; i < numbers.size(); ++i)
        if (numbers[i] <= numbers[i - 1])
            place.fail("piece numbers rise");
    if (numbers.empty())
        place.fail("no pieces");
    return numbers;
}

AssemblyStep stepFrom(const JsonPlace& place, int pieces, std::size_t joints)
{
    AssemblyStep step;
    step.moving = piecesFrom(place.at("moving"), pieces);
    step.onto = piecesFrom(place.at("onto"), pieces);
    step.motion = motionFrom(place.at("motion"));
    place.at("joints").each(mostItems, [&](const JsonPlace& item) {
        step.joints.push_back(static_cast<std::size_t>(item.whole(0, static_cast<std::int64_t>(joints) - 1)));
    });
    step.words = place.at("words").text(longestText);
    return step;
}

} // namespace

json toJson(const AssemblyPlan& plan)
{
    json steps = json::array(), blocking = json::array(), problems = json::array();
    for (const AssemblyStep& s : plan.steps)
        steps.push_back({{"moving", s.moving},
                         {"onto", s.onto},
                         {"motion", motionJson(s.motion)},
                         {"joints", s.joints},
                         {"words", textJson(s.words)}});
    for (const Blocking& b : plan.blocking)
        blocking.push_back({{"piece", b.piece},
                            {"other", b.other},
                            {"motion", motionJson(b.motion)},
                            {"after_mm", b.afterMm},
                            {"why", textJson(b.why)}});
    for (const AssemblyProblem& p : plan.problems)
        problems.push_back({{"pieces", p.pieces}, {"text", textJson(p.text)}});
    return {{"steps", steps}, {"blocking", blocking}, {"problems", problems}};
}

AssemblyPlan assemblyPlanFrom(const JsonPlace& place, int pieces, std::size_t joints)
{
    AssemblyPlan plan;
    place.at("steps").each(mostItems,
                           [&](const JsonPlace& item) { plan.steps.push_back(stepFrom(item, pieces, joints)); });
    place.at("blocking").each(mostItems, [&](const JsonPlace& item) {
        plan.blocking.push_back({item.at("piece").wholeInt(1, pieces), item.at("other").wholeInt(1, pieces),
                                 motionFrom(item.at("motion")), item.at("after_mm").number(0, farthestMm),
                                 item.at("why").text(longestText)});
    });
    place.at("problems").each(mostItems, [&](const JsonPlace& item) {
        plan.problems.push_back({piecesFrom(item.at("pieces"), pieces), item.at("text").text(longestText)});
    });
    return plan;
}

} // namespace quoin::core
