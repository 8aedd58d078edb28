// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/load_case_json.h"

#include "core/material_strength.h"

namespace quoin::core {

using nlohmann::json;

namespace {

// What a file may ask for; beyond it something is damaged.
constexpr double mostFactor = 1e6, farthestMm = 1e9, mostN = 1e12, mostMpa = 1e6, mostGravity = 1e9;
constexpr std::size_t mostForces = 10'000, mostHeld = 1'000'000, longestName = 1000;
constexpr int mostPieces = 1'000'000'000;
/// "Above 0" for values that are divided by.
constexpr double least = 1e-9;
/// Classes are the same at every size that matters here, save for the figures.
constexpr double anyBoltMm = 8;

json triple(mesh::Vec3 v)
{
    return json::array({v.x, v.y, v.z});
}

mesh::Vec3 tripleFrom(const JsonPlace& j, double most)
{
    std::vector<double> v;
    j.each(3, [&](const JsonPlace& n) { v.push_back(n.number(-most, most)); });
    if (v.size() != 3)
        j.fail("three numbers were expected");
    return {v[0], v[1], v[2]};
}

ExtraForce forceFrom(const JsonPlace& j)
{
    return {tripleFrom(j.at("at_mm"), farthestMm), tripleFrom(j.at("force_n"), mostN),
            j.at("piece").wholeInt(0, mostPieces)};
}

} // namespace

json toJson(const LoadCase& load)
{
    json extra = json::array();
    for (const ExtraForce& f : load.extra)
        extra.push_back({{"at_mm", triple(f.at)}, {"force_n", triple(f.forceN)}, {"piece", f.piece}});
    return {{"dynamic_factor", load.dynamicFactor},
            {"gravity", triple(load.gravity)},
            {"extra_forces", extra},
            {"held", load.held},
            {"fill_share", load.fillShare},
            {"safety_limit", load.safetyLimit},
            {"glue_mpa", load.glueMpa},
            {"bolt_class", load.boltClass}};
}

LoadCase loadCaseFrom(const JsonPlace& j)
{
    LoadCase load;
    load.dynamicFactor = j.at("dynamic_factor").number(least, mostFactor);
    load.gravity = tripleFrom(j.at("gravity"), mostGravity);
    if (!(mesh::length(load.gravity) > least))
        j.at("gravity").fail("the direction of gravity has no length");
    j.at("extra_forces").each(mostForces, [&](const JsonPlace& f) { load.extra.push_back(forceFrom(f)); });
    j.at("held").each(mostHeld, [&](const JsonPlace& n) { load.held.push_back(n.wholeInt(1, mostPieces)); });
    load.fillShare = j.at("fill_share").number(least, 1);
    load.safetyLimit = j.at("safety_limit").number(least, mostFactor);
    load.glueMpa = j.at("glue_mpa").number(0, mostMpa);
    load.boltClass = j.at("bolt_class").text(longestName);
    if (boltClass(load.boltClass, anyBoltMm).name.empty())
        j.at("bolt_class").fail("unknown bolt class \"" + load.boltClass + "\"");
    return load;
}

LoadCase loadCaseIn(const JsonPlace& place)
{
    const auto load = place.maybe("load");
    return load ? loadCaseFrom(*load) : LoadCase{};
}

} // namespace quoin::core
