// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_json.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>

namespace quoin::core {

using nlohmann::json;

namespace {

constexpr double farthestMm = 1e9, smallestMm = 0.01, largestMm = 10'000, largestAngle = 1e6;
constexpr double leastClearanceMm = -0.5; ///< a press fit may be tighter than nothing
constexpr std::size_t longestWord = 100;
constexpr int mostStarts = 4;
constexpr double finestChordMm = 1e-4, coarsestChordMm = 1;

template <class T>
using Named = std::pair<T, const char*>;

constexpr std::array<Named<JointForm::Section>, 3> sections{
    {{JointForm::Section::Square, "square"}, {JointForm::Section::D, "D"}, {JointForm::Section::Cross, "cross"}}};
constexpr std::array<Named<JointForm::Rod>, 3> rods{
    {{JointForm::Rod::Printed, "printed"}, {JointForm::Rod::Wood, "wood"}, {JointForm::Rod::Steel, "steel"}}};
constexpr std::array<Named<JointForm::Hold>, 3> holds{{{JointForm::Hold::FarNut, "nut from the far side"},
                                                       {JointForm::Hold::SideNut, "nut from the side"},
                                                       {JointForm::Hold::Insert, "heat-set insert"}}};

template <class T, std::size_t N>
const char* nameOf(const std::array<Named<T>, N>& all, T value)
{
    for (const auto& [v, name] : all)
        if (v == value)
            return name;
    return "";
}

template <class T, std::size_t N>
T named(const JsonPlace& place, const std::array<Named<T>, N>& all)
{
    const std::string text = place.text(longestWord);
    std::vector<std::string> names;
    for (const auto& [value, name] : all) {
        if (text == name)
            return value;
        names.emplace_back(name);
    }
    place.fail(fmt::format("\"{}\" is none of: {}", text, fmt::join(names, ", ")));
}

json threadJson(const ThreadForm& t)
{
    return {{"profile", t.trapezoidal ? "trapezoidal" : "45 degrees"},
            {"pitch_mm", t.pitchMm},
            {"starts", t.starts},
            {"left_hand", t.leftHand}};
}

ThreadForm threadFrom(const JsonPlace& j)
{
    constexpr std::array<Named<bool>, 2> profiles{{{true, "trapezoidal"}, {false, "45 degrees"}}};
    return {named(j.at("profile"), profiles), j.at("pitch_mm").number(smallestMm, largestMm),
            j.at("starts").wholeInt(1, mostStarts), j.at("left_hand").truth()};
}

mesh::Vec2 placeFrom(const JsonPlace& j)
{
    std::vector<double> v;
    j.each(2, [&](const JsonPlace& n) { v.push_back(n.number(-farthestMm, farthestMm)); });
    if (v.size() != 2)
        j.fail("two numbers were expected");
    return {v[0], v[1]};
}

bool carrierAboveFrom(const JsonPlace& j)
{
    constexpr std::array<Named<bool>, 2> sides{{{false, "below"}, {true, "above"}}};
    return named(j.at("carrier"), sides);
}

void addBySort(const JointForm& f, json& j)
{
    using Kind = JointForm::Kind;
    const char* carrier = f.carrierAbove ? "above" : "below";
    switch (f.kind) {
    case Kind::Dowel:
        j["keyed"] = f.keyed;
        j["rod"] = nameOf(rods, f.rod);
        break;
    case Kind::Screw:
        j["carrier"] = carrier;
        j["thread"] = threadJson(f.thread);
        break;
    case Kind::Stud:
        j["thread"] = threadJson(f.thread);
        break;
    case Kind::Key:
        j["carrier"] = carrier;
        j["integral"] = f.integral;
        j["section"] = nameOf(sections, f.section);
        j["taper_mm"] = f.taperMm;
        break;
    case Kind::Dovetail:
        j["carrier"] = carrier;
        j["length_mm"] = f.lengthMm;
        break;
    case Kind::DrawBolt:
        j["carrier"] = carrier;
        j["grip_mm"] = f.gripMm;
        j["hold"] = nameOf(holds, f.hold);
        break;
    case Kind::ClockingKey:
        j["length_mm"] = f.lengthMm;
        break;
    }
}

void readBySort(const JsonPlace& j, JointForm& f)
{
    using Kind = JointForm::Kind;
    switch (f.kind) {
    case Kind::Dowel:
        f.keyed = j.at("keyed").truth();
        f.rod = named(j.at("rod"), rods);
        break;
    case Kind::Screw:
        f.carrierAbove = carrierAboveFrom(j);
        f.thread = threadFrom(j.at("thread"));
        break;
    case Kind::Stud:
        f.thread = threadFrom(j.at("thread"));
        break;
    case Kind::Key:
        f.carrierAbove = carrierAboveFrom(j);
        f.integral = j.at("integral").truth();
        f.section = named(j.at("section"), sections);
        f.taperMm = j.at("taper_mm").number(0, largestMm);
        break;
    case Kind::Dovetail:
        f.carrierAbove = carrierAboveFrom(j);
        f.lengthMm = j.at("length_mm").number(smallestMm, largestMm);
        break;
    case Kind::DrawBolt:
        f.carrierAbove = carrierAboveFrom(j);
        f.gripMm = j.at("grip_mm").number(smallestMm, largestMm);
        f.hold = named(j.at("hold"), holds);
        break;
    case Kind::ClockingKey:
        f.lengthMm = j.at("length_mm").number(smallestMm, largestMm);
        break;
    }
}

} // namespace

json jointFormJson(const JointForm& f)
{
    json j{{"kind", kindName(f.kind)},
           {"at_mm", json::array({f.at.x, f.at.y})},
           {"diameter_mm", f.diameterMm},
           {"depth_mm", f.depthMm},
           {"angle_rad", f.angle}};
    addBySort(f, j);
    return j;
}

JointForm jointFormFrom(const JsonPlace& j, JointFileAge age)
{
    const bool now = age == JointFileAge::Now;
    JointForm f;
    if (now)
        f.kind = jointKindFrom(j.at("kind"));
    f.at = placeFrom(j.at("at_mm"));
    f.diameterMm = j.at("diameter_mm").number(smallestMm, largestMm);
    f.depthMm = j.at("depth_mm").number(smallestMm, largestMm);
    f.angle = j.at(now ? "angle_rad" : "flat_angle_rad").number(-largestAngle, largestAngle);
    if (now)
        readBySort(j, f);
    else
        f.keyed = j.at("keyed").truth();
    return f;
}

JointForm::Kind jointKindFrom(const JsonPlace& place)
{
    const std::string text = place.text(longestWord);
    if (const auto kind = kindFromName(text))
        return *kind;
    std::vector<std::string> names;
    for (const JointForm::Kind kind : allJointKinds)
        names.emplace_back(kindName(kind));
    place.fail(fmt::format("unknown kind of joint \"{}\"; known are: {}", text, fmt::join(names, ", ")));
}

json jointOptionsJson(const JointOptions& o)
{
    json clearances = json::object();
    for (const FitProcess process : fitProcesses)
        clearances[processName(process)] = o.clearances.of(process);
    return {{"joints", o.wanted},
            {"kind", o.kind ? json(kindName(*o.kind)) : json()},
            {"clocked", o.clocked},
            {"wall_mm", o.wallMm},
            {"clearances_mm", clearances},
            {"chord_mm", o.chordMm},
            {"marks", o.marks},
            {"witness", o.witness}};
}

JointOptions jointOptionsFrom(const JsonPlace& j, JointFileAge age)
{
    const bool now = age == JointFileAge::Now;
    JointOptions o;
    o.wanted = j.at(now ? "joints" : "dowels").truth();
    if (!now)
        o.kind = JointForm::Kind::Dowel;
    else if (const auto kind = j.maybe("kind"))
        o.kind = jointKindFrom(*kind);
    o.wallMm = j.at("wall_mm").number(0, largestMm);
    if (now) {
        const JsonPlace clearances = j.at("clearances_mm");
        for (const FitProcess process : fitProcesses)
            o.clearances.of(process) = clearances.at(processName(process).c_str()).number(leastClearanceMm, largestMm);
        o.chordMm = j.at("chord_mm").number(finestChordMm, coarsestChordMm);
    } else {
        o.clearances.dowelMm = j.at("clearance_mm").number(0, largestMm);
    }
    o.marks = j.at("marks").truth();
    // Files from before these were there know nothing of them.
    if (const auto clocked = j.maybe("clocked"))
        o.clocked = clocked->truth();
    if (const auto witness = j.maybe("witness"))
        o.witness = witness->truth();
    return o;
}

} // namespace quoin::core
