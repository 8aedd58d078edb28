// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/design_json.h"

#include "core/fit_json.h"
#include "core/joint_json.h"
#include "core/json_place.h"
#include "core/load_case_json.h"
#include "core/mesh_folder.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

namespace quoin::core {

using nlohmann::json;

namespace {

// What a file may ask for; beyond it something is damaged, and following it would only fill the memory.
constexpr std::size_t longestName = 1000, longestPath = 4096, longestWords = 10'000;
constexpr std::size_t mostParts = 10'000, mostBeds = 1000, mostCuts = 100'000, mostFaces = 100'000, mostJoints = 10'000,
                      mostFits = 5000, mostRepairs = 10'000;
/// Designs begin with this version; joints have kinds since that one.
constexpr int firstVersion = 2, jointKindsVersion = 3;
constexpr int largestId = 1'000'000'000, mostCopies = 1'000'000;
constexpr double farthestMm = 1e9;
constexpr double smallestFeatureMm = 0.01, largestFeatureMm = 10'000;
constexpr double leastScale = 1e-6, mostScale = 1e6;
constexpr double widestMarginMm = 10'000;
constexpr double unitLengthError = 1e-9;

json of(mesh::Vec2 v)
{
    return json::array({v.x, v.y});
}

json of(const Bed& b)
{
    return {{"name", textJson(b.name)}, {"shape", b.shape == Bed::Shape::Round ? "round" : "rectangular"},
            {"width_mm", b.widthMm},    {"depth_mm", b.depthMm},
            {"height_mm", b.heightMm},  {"machines", b.machines}};
}

json of(const CutStep& c)
{
    json within = json::array();
    for (const CutSide& s : c.within)
        within.push_back({{"cut", s.cut}, {"side", s.above ? "above" : "below"}});
    const mesh::Vec3 n = c.plane.normal;
    return {{"id", c.id},
            {"name", textJson(c.name)},
            {"normal", json::array({n.x, n.y, n.z})},
            {"offset_mm", c.plane.offset},
            {"enabled", c.enabled},
            {"within", within}};
}

const char* howName(FaceChoice::How how)
{
    return how == FaceChoice::How::Plain ? "plain" : how == FaceChoice::How::ByHand ? "by hand" : "automatic";
}

json of(const FaceChoice& f)
{
    json joints = json::array();
    for (const JointForm& joint : f.joints)
        joints.push_back(jointFormJson(joint));
    return {{"cut", f.cut},
            {"at_mm", of(f.at)},
            {"how", howName(f.how)},
            {"kind", f.kind ? json(kindName(*f.kind)) : json()},
            {"clocked", f.clocked},
            {"diameter_mm", f.diameterMm ? json(*f.diameterMm) : json()},
            {"fit", f.fit ? json(fitName(*f.fit)) : json()},
            {"joints", joints}};
}

/// Rising numbers as the first and last of each unbroken run: painted regions are long runs.
json runsOf(const std::vector<mesh::Index>& rising)
{
    json runs = json::array();
    for (std::size_t i = 0; i < rising.size();) {
        std::size_t last = i;
        while (last + 1 < rising.size() && rising[last + 1] == rising[last] + 1)
            ++last;
        runs.push_back(rising[i]);
        runs.push_back(rising[last]);
        i = last + 1;
    }
    return runs;
}

/// The first three rows of a rigid motion, row by row.
json of(const mesh::Transform& t)
{
    return json(std::vector<double>(t.m.begin(), t.m.begin() + 12));
}

json of(const PartDesign& p, const MeshReference& mesh)
{
    json repairs = json::array(), cuts = json::array(), faces = json::array(), places = json::array(),
         fits = json::array();
    for (const mesh::Transform& t : p.places)
        places.push_back(of(t));
    for (const std::string& r : p.repairs)
        repairs.push_back(textJson(r));
    for (const CutStep& c : p.cuts)
        cuts.push_back(of(c));
    for (const FitRow& f : p.fits)
        fits.push_back(json(fitRowJson(f)));
    for (const FaceChoice& f : p.faces)
        faces.push_back(of(f));
    return {{"id", p.id},
            {"name", textJson(p.name)},
            {"source_file", textJson(p.sourceFile)},
            {"source_sha256", textJson(p.sourceSha256)},
            {"source_unit", mesh::unitName(p.sourceUnit)},
            {"repairs", repairs},
            {"mesh", {{"file", textJson(mesh.file)}, {"sha256", mesh.sha256}, {"triangles", mesh.triangles}}},
            {"scale", p.scale},
            {"material", textJson(p.material)},
            {"quantity", p.quantity},
            {"visible", p.visible},
            {"places", places},
            {"next_cut", p.nextCut},
            {"cuts", cuts},
            {"keep_clear_runs", runsOf(p.keepClear)},
            {"joint_options", jointOptionsJson(p.joints)},
            {"fit", fitName(p.fit)},
            {"machine", textJson(p.machine)},
            {"fits", fits},
            {"faces", faces},
            {"load", toJson(p.load)},
            {"suggestion", textJson(p.suggestionWords)}};
}

// ---- reading

mesh::Vec2 vec2(const JsonPlace& j)
{
    std::vector<double> v;
    j.each(2, [&](const JsonPlace& n) { v.push_back(n.number(-farthestMm, farthestMm)); });
    if (v.size() != 2)
        j.fail("two numbers were expected");
    return {v[0], v[1]};
}

mesh::Vec3 unitVector(const JsonPlace& j)
{
    std::vector<double> v;
    j.each(3, [&](const JsonPlace& n) { v.push_back(n.number(-1 - unitLengthError, 1 + unitLengthError)); });
    if (v.size() != 3)
        j.fail("three numbers were expected");
    const mesh::Vec3 n{v[0], v[1], v[2]};
    if (std::abs(mesh::length(n) - 1) > unitLengthError)
        j.fail("the normal is not a unit vector");
    return n;
}

/// A rigid motion: twelve numbers, the turn a right-handed one.
mesh::Transform placeFrom(const JsonPlace& j)
{
    mesh::Transform t;
    std::size_t n = 0;
    j.each(12, [&](const JsonPlace& x) {
        t.m[n] = n % 4 == 3 ? x.number(-farthestMm, farthestMm) : x.number(-1 - unitLengthError, 1 + unitLengthError);
        ++n;
    });
    if (n != 12)
        j.fail("twelve numbers were expected");
    for (std::size_t a = 0; a < 3; ++a)
        for (std::size_t b = 0; b < 3; ++b) {
            double product = 0;
            for (std::size_t k = 0; k < 3; ++k)
                product += t.m[4 * a + k] * t.m[4 * b + k];
            if (std::abs(product - (a == b ? 1 : 0)) > unitLengthError)
                j.fail("the place is no turn and shift");
        }
    if (t.determinant() < 0)
        j.fail("the place mirrors the part");
    return t;
}

/// The place of a text in a list of words that it may be.
std::size_t choice(const JsonPlace& j, const std::vector<std::string>& words)
{
    const std::string text = j.text(longestName);
    const auto found = std::find(words.begin(), words.end(), text);
    if (found == words.end())
        j.fail(fmt::format("\"{}\" is none of: {}", text, fmt::join(words, ", ")));
    return static_cast<std::size_t>(found - words.begin());
}

Fit fitFrom(const JsonPlace& j)
{
    constexpr std::array all{Fit::Free, Fit::Sliding, Fit::Snug, Fit::Press};
    std::vector<std::string> words;
    for (const Fit f : all)
        words.push_back(fitName(f));
    return all[choice(j, words)];
}

Bed bedFrom(const JsonPlace& j)
{
    Bed b;
    b.name = j.at("name").text(longestName);
    b.shape = choice(j.at("shape"), {"rectangular", "round"}) == 1 ? Bed::Shape::Round : Bed::Shape::Rectangular;
    b.widthMm = j.at("width_mm").number(0, farthestMm);
    b.depthMm = j.at("depth_mm").number(0, farthestMm);
    b.heightMm = j.at("height_mm").number(0, farthestMm);
    b.machines = j.at("machines").wholeInt(1, mostCopies);
    if (const Status good = checkBed(b); !good)
        j.fail(good.problem().what);
    return b;
}

CutStep cutFrom(const JsonPlace& j, const std::set<int>& earlier, int nextCut)
{
    CutStep c;
    c.id = j.at("id").wholeInt(1, nextCut - 1);
    if (earlier.contains(c.id))
        j.at("id").fail(fmt::format("two cuts have the number {}", c.id));
    c.name = j.at("name").text(longestName);
    c.plane.normal = unitVector(j.at("normal"));
    c.plane.offset = j.at("offset_mm").number(-farthestMm, farthestMm);
    c.enabled = j.at("enabled").truth();
    std::set<int> named;
    j.at("within").each(mostCuts, [&](const JsonPlace& s) {
        const CutSide side{s.at("cut").wholeInt(1, nextCut - 1), choice(s.at("side"), {"below", "above"}) == 1};
        if (!earlier.contains(side.cut))
            s.at("cut").fail(fmt::format("no earlier cut has the number {}", side.cut));
        if (!named.insert(side.cut).second)
            s.at("cut").fail(fmt::format("cut {} is named twice", side.cut));
        c.within.push_back(side);
    });
    return c;
}

FaceChoice faceFrom(const JsonPlace& j, const std::set<int>& cuts, JointFileAge age)
{
    FaceChoice f;
    f.cut = j.at("cut").wholeInt(1, largestId);
    if (!cuts.contains(f.cut))
        j.at("cut").fail(fmt::format("no cut has the number {}", f.cut));
    f.at = vec2(j.at("at_mm"));
    constexpr std::array hows{FaceChoice::How::Automatic, FaceChoice::How::Plain, FaceChoice::How::ByHand};
    f.how = hows[choice(j.at("how"), {"automatic", "plain", "by hand"})];
    if (const auto kind = j.maybe("kind"))
        f.kind = jointKindFrom(*kind);
    if (const auto clocked = j.maybe("clocked")) // not there in earlier files
        f.clocked = clocked->truth();
    if (const auto d = j.maybe("diameter_mm"))
        f.diameterMm = d->number(smallestFeatureMm, largestFeatureMm);
    if (const auto fit = j.maybe("fit"))
        f.fit = fitFrom(*fit);
    j.at(age == JointFileAge::Now ? "joints" : "dowels").each(mostJoints, [&](const JsonPlace& joint) {
        f.joints.push_back(jointFormFrom(joint, age));
    });
    return f;
}

MeshReference meshFrom(const JsonPlace& j)
{
    MeshReference m;
    m.file = j.at("file").text(longestPath);
    m.sha256 = j.at("sha256").text(longestName);
    m.triangles = static_cast<std::size_t>(j.at("triangles").whole(1, std::numeric_limits<std::uint32_t>::max()));
    if (!isSha256(m.sha256))
        j.at("sha256").fail("64 hexadecimal digits were expected");
    const std::filesystem::path path(m.file);
    const bool inside =
        path.is_relative() && std::none_of(path.begin(), path.end(), [](const auto& step) { return step == ".."; });
    if (!inside || path.filename() != keptName(m.sha256))
        j.at("file").fail("the file of a mesh lies beside the design and is named by its content");
    return m;
}

std::vector<mesh::Index> indicesFrom(const JsonPlace& j, std::size_t triangles)
{
    std::vector<mesh::Index> indices;
    std::int64_t first = -1, before = -1;
    const std::size_t numbers = j.each(2 * triangles, [&](const JsonPlace& n) {
        const std::int64_t value = n.whole(0, static_cast<std::int64_t>(triangles) - 1);
        if (first < 0) {
            if (value <= before)
                n.fail("the triangles don't rise");
            first = value;
            return;
        }
        if (value < first)
            n.fail("a run of triangles ends before it begins");
        for (std::int64_t i = first; i <= value; ++i)
            indices.push_back(static_cast<mesh::Index>(i));
        before = value;
        first = -1;
    });
    if (numbers % 2 != 0)
        j.fail("a run of triangles has no end");
    return indices;
}

void readSource(const JsonPlace& j, PartDesign& p)
{
    p.sourceFile = j.at("source_file").text(longestPath);
    p.sourceSha256 = j.at("source_sha256").text(longestName);
    if (!p.sourceSha256.empty() && !isSha256(p.sourceSha256))
        j.at("source_sha256").fail("64 hexadecimal digits were expected");
    const auto unit = mesh::unitFromName(j.at("source_unit").text(longestName));
    if (!unit)
        j.at("source_unit").fail(unit.problem().what);
    p.sourceUnit = *unit;
    j.at("repairs").each(mostRepairs, [&](const JsonPlace& r) { p.repairs.push_back(r.text(longestWords)); });
}

PartDesign partFrom(const JsonPlace& j, int nextPart, const MeshReference& mesh, JointFileAge age)
{
    PartDesign p;
    p.id = j.at("id").wholeInt(1, nextPart - 1);
    p.name = j.at("name").text(longestName);
    readSource(j, p);
    p.scale = j.at("scale").number(leastScale, mostScale);
    p.material = j.at("material").text(longestName);
    if (findMaterial(p.material) == nullptr)
        j.at("material").fail(fmt::format("unknown material \"{}\"", p.material));
    p.quantity = j.at("quantity").wholeInt(1, mostCopies);
    p.visible = j.at("visible").truth();
    j.at("places").each(mostCopies, [&](const JsonPlace& t) { p.places.push_back(placeFrom(t)); });
    p.nextCut = j.at("next_cut").wholeInt(1, largestId);
    std::set<int> ids;
    j.at("cuts").each(mostCuts, [&](const JsonPlace& c) {
        p.cuts.push_back(cutFrom(c, ids, p.nextCut));
        ids.insert(p.cuts.back().id);
    });
    p.keepClear = indicesFrom(j.at("keep_clear_runs"), mesh.triangles);
    p.joints = jointOptionsFrom(j.at("joint_options"), age);
    p.fit = fitFrom(j.at("fit"));
    if (age == JointFileAge::Now) {
        p.machine = j.at("machine").text(longestName);
        j.at("fits").each(mostFits, [&](const JsonPlace& row) { p.fits.push_back(fitRowFrom(row)); });
    }
    j.at("faces").each(mostFaces, [&](const JsonPlace& f) { p.faces.push_back(faceFrom(f, ids, age)); });
    p.load = loadCaseIn(j);
    p.suggestionWords = j.at("suggestion").text(longestWords);
    return p;
}

DesignDocument documentFrom(const JsonPlace& j, JointFileAge age)
{
    DesignDocument d;
    if (j.at("unit").text(longestName) != "mm")
        j.at("unit").fail("lengths in mm were expected");
    d.design.nextPart = j.at("next_part").wholeInt(1, largestId);
    j.at("beds").each(mostBeds, [&](const JsonPlace& b) { d.design.beds.push_back(bedFrom(b)); });
    d.design.marginMm = j.at("margin_mm").number(0, widestMarginMm);
    d.design.anyRotation = j.at("any_rotation").truth();
    d.design.islandsApart = j.at("islands_apart").truth();
    std::set<int> ids;
    j.at("parts").each(mostParts, [&](const JsonPlace& p) {
        d.meshes.push_back(meshFrom(p.at("mesh")));
        d.design.parts.push_back(partFrom(p, d.design.nextPart, d.meshes.back(), age));
        if (!ids.insert(d.design.parts.back().id).second)
            p.at("id").fail(fmt::format("two parts have the number {}", d.design.parts.back().id));
    });
    return d;
}

} // namespace

json toJson(const DesignDocument& document)
{
    const Design& d = document.design;
    json beds = json::array(), parts = json::array();
    for (const Bed& b : d.beds)
        beds.push_back(of(b));
    for (std::size_t i = 0; i < d.parts.size(); ++i)
        parts.push_back(of(d.parts[i], document.meshes.at(i)));
    return {{"kind", designKind},
            {"version", designVersion},
            {"unit", "mm"},
            {"next_part", d.nextPart},
            {"beds", beds},
            {"margin_mm", d.marginMm},
            {"any_rotation", d.anyRotation},
            {"islands_apart", d.islandsApart},
            {"parts", parts}};
}

Result<DesignDocument> designFromJson(const json& document, const std::string& file)
{
    constexpr const char* remedy = "Take an earlier copy of the file, or correct it there.";
    try {
        const JsonPlace root(document);
        const auto kind = document.is_object() ? root.maybe("kind") : std::nullopt;
        if (!kind || kind->text(longestName) != designKind)
            return Problem{Reason::FileMalformed, "this is not a Quoin design", file, {}, "Choose another file."};
        const std::int64_t version = root.at("version").whole(1, std::numeric_limits<std::int64_t>::max());
        if (version > designVersion)
            return Problem{
                Reason::VersionTooNew,
                fmt::format("the design is of version {}, this program reads up to {}", version, designVersion),
                file,
                {},
                "Open it with a newer Quoin."};
        if (version < firstVersion)
            root.at("version").fail(fmt::format("designs begin with version {}", firstVersion));
        return documentFrom(root, version < jointKindsVersion ? JointFileAge::DowelsOnly : JointFileAge::Now);
    } catch (const JsonPlace::Wrong& wrong) {
        return Problem{Reason::FileMalformed, "the design is damaged: " + wrong.what, file, wrong.place, remedy};
    }
}

} // namespace quoin::core
