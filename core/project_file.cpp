// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/project_file.h"

#include "core/assembly_json.h"
#include "core/joint_json.h"
#include "core/load_case_json.h"

#include <fmt/format.h>

namespace quoin::core {

namespace {

using nlohmann::json;

constexpr const char* documentKind = "quoin project";
/// Joints have kinds since this version.
constexpr int jointKindsVersion = 2;

json of(mesh::Vec3 v)
{
    return json::array({v.x, v.y, v.z});
}
json of(mesh::Vec2 v)
{
    return json::array({v.x, v.y});
}
mesh::Vec3 vec3(const json& j)
{
    if (!j.is_array() || j.size() != 3)
        throw json::other_error::create(501, "three numbers were expected", &j);
    return {j[0].get<double>(), j[1].get<double>(), j[2].get<double>()};
}
mesh::Vec2 vec2(const json& j)
{
    if (!j.is_array() || j.size() != 2)
        throw json::other_error::create(501, "two numbers were expected", &j);
    return {j[0].get<double>(), j[1].get<double>()};
}

json of(const mesh::Region& region)
{
    json loops = json::array();
    for (const mesh::Loop& loop : region) {
        json points = json::array();
        for (const mesh::Vec2 p : loop)
            points.push_back(of(p));
        loops.push_back(std::move(points));
    }
    return loops;
}
mesh::Region region(const json& j)
{
    mesh::Region r;
    for (const json& loop : j) {
        mesh::Loop points;
        for (const json& p : loop)
            points.push_back(vec2(p));
        r.push_back(std::move(points));
    }
    return r;
}

json of(const Bed& b)
{
    return {{"name", b.name},          {"shape", b.shape == Bed::Shape::Round ? "round" : "rectangular"},
            {"width_mm", b.widthMm},   {"depth_mm", b.depthMm},
            {"height_mm", b.heightMm}, {"machines", b.machines}};
}
Bed bed(const json& j)
{
    Bed b;
    b.name = j.at("name");
    b.shape = j.at("shape") == "round" ? Bed::Shape::Round : Bed::Shape::Rectangular;
    b.widthMm = j.at("width_mm");
    b.depthMm = j.at("depth_mm");
    b.heightMm = j.at("height_mm");
    b.machines = j.at("machines");
    return b;
}

json of(const Piece& p)
{
    json path = json::array();
    for (const Step& s : p.path)
        path.push_back({{"cut", s.node}, {"side", s.above ? "above" : "below"}});
    return {{"number", p.number},
            {"path", path},
            {"pose",
             {{"print_from_assembled", p.pose.printFromAssembled.m},
              {"bed", p.pose.bed},
              {"extents_mm", of(p.pose.extentsMm)},
              {"slack_mm", p.pose.slackMm},
              {"base_area_mm2", p.pose.baseAreaMm2},
              {"stands_flat", p.pose.standsFlat}}}};
}
Piece piece(const json& j)
{
    Piece p;
    p.number = j.at("number");
    for (const json& s : j.at("path"))
        p.path.push_back({s.at("cut"), s.at("side") == "above"});
    const json& pose = j.at("pose");
    p.pose.printFromAssembled.m = pose.at("print_from_assembled").get<std::array<double, 16>>();
    p.pose.bed = pose.at("bed");
    p.pose.extentsMm = vec3(pose.at("extents_mm"));
    p.pose.slackMm = pose.at("slack_mm");
    p.pose.baseAreaMm2 = pose.at("base_area_mm2");
    p.pose.standsFlat = pose.at("stands_flat");
    return p;
}

json of(const Joint& j)
{
    json out = jointFormJson(j);
    out["seam"] = j.seam;
    out["clearance_mm"] = j.clearanceMm;
    out["end_clearance_mm"] = j.endClearanceMm;
    out["chord_mm"] = j.chordMm;
    if (opensOutside(j)) {
        out["head_out_mm"] = j.headOutMm;
        out["nut_out_mm"] = j.nutOutMm;
    }
    return out;
}
Joint joint(const json& j, JointFileAge age)
{
    Joint r;
    static_cast<JointForm&>(r) = jointFormFrom(JsonPlace(j), age);
    r.seam = j.at("seam");
    r.clearanceMm = j.at("clearance_mm");
    r.endClearanceMm = j.at("end_clearance_mm");
    if (age == JointFileAge::Now)
        r.chordMm = j.at("chord_mm");
    if (opensOutside(r)) {
        r.headOutMm = j.at("head_out_mm");
        r.nutOutMm = j.at("nut_out_mm");
    }
    return r;
}

json of(const Mark& m)
{
    return {
        {"seam", m.seam},          {"at_mm", of(m.at)},     {"angle_rad", m.angle},      {"height_mm", m.heightMm},
        {"stroke_mm", m.strokeMm}, {"depth_mm", m.depthMm}, {"text_below", m.textBelow}, {"text_above", m.textAbove}};
}
Mark mark(const json& j)
{
    return {j.at("seam"),      vec2(j.at("at_mm")), j.at("angle_rad"),  j.at("height_mm"),
            j.at("stroke_mm"), j.at("depth_mm"),    j.at("text_below"), j.at("text_above")};
}

json of(const Witness& w)
{
    json stations = json::array();
    for (const Witness::Station& s : w.stations)
        stations.push_back({{"at_mm", of(s.at)}, {"in", of(s.in)}});
    return {{"seam", w.seam},
            {"width_mm", w.widthMm},
            {"depth_mm", w.depthMm},
            {"stations", stations},
            {"crossing", w.crossing}};
}
Witness witness(const json& j)
{
    Witness w;
    w.seam = j.at("seam");
    w.widthMm = j.at("width_mm");
    w.depthMm = j.at("depth_mm");
    for (const json& s : j.at("stations"))
        w.stations.push_back({vec3(s.at("at_mm")), vec3(s.at("in"))});
    w.crossing = j.at("crossing");
    if (!(w.widthMm > 0) || !(w.depthMm > 0) || w.stations.size() < 2 || w.crossing >= w.stations.size())
        throw json::other_error::create(505, "a witness line has no size or no places", &j);
    return w;
}

json planJson(const CutPlan& plan)
{
    json nodes = json::array();
    for (const CutPlan::Node& n : plan.nodes)
        nodes.push_back(
            {{"normal", of(n.plane.normal)}, {"offset_mm", n.plane.offset}, {"below", n.below}, {"above", n.above}});
    return nodes;
}

/// A plan read from a file must be a tree: children come after their parent and are used once.
CutPlan planFrom(const json& nodes)
{
    CutPlan plan;
    for (const json& n : nodes)
        plan.nodes.push_back({{vec3(n.at("normal")), n.at("offset_mm")}, n.at("below"), n.at("above")});
    std::vector<int> uses(plan.nodes.size(), 0);
    for (std::size_t i = 0; i < plan.nodes.size(); ++i) {
        if (std::abs(mesh::length(plan.nodes[i].plane.normal) - 1) > 1e-9)
            throw json::other_error::create(503, fmt::format("the normal of cut {} is not a unit vector", i), &nodes);
        for (const int child : {plan.nodes[i].below, plan.nodes[i].above})
            if (child != -1 && (child <= static_cast<int>(i) || child >= static_cast<int>(plan.nodes.size()) ||
                                uses[static_cast<std::size_t>(child)]++ > 0))
                throw json::other_error::create(503, "the cuts do not form a tree", &nodes);
    }
    return plan;
}

json layoutJson(const JointLayout& layout)
{
    json joints = json::array(), marks = json::array(), reports = json::array(), witnesses = json::array();
    for (const Witness& w : layout.witnesses)
        witnesses.push_back(of(w));
    for (const Joint& j : layout.joints)
        joints.push_back(of(j));
    for (const Mark& m : layout.marks)
        marks.push_back(of(m));
    for (const SeamReport& r : layout.reports)
        reports.push_back({{"seam", r.seam}, {"text", r.text}, {"butt", r.butt}, {"room_mm", r.roomMm}});
    return {{"joints", joints}, {"marks", marks}, {"witnesses", witnesses}, {"reports", reports}};
}

/// Everything that names something else by number must name something that is there.
void requireConsistent(const Project& p)
{
    const auto fail = [](const std::string& what) { throw json::other_error::create(504, what, nullptr); };
    const auto pieces = static_cast<int>(p.pieces.size());
    for (const Piece& piece : p.pieces) {
        if (piece.pose.bed >= std::max<std::size_t>(p.beds.size(), 1))
            fail("a piece names a bed that is not there");
        for (const Step& s : piece.path)
            if (s.node < 0 || s.node >= static_cast<int>(p.plan.nodes.size()))
                fail("a piece names a cut that is not there");
    }
    for (std::size_t i = 0; i < p.pieces.size(); ++i)
        if (p.pieces[i].number != static_cast<int>(i) + 1)
            fail("the pieces are not numbered in order");
    for (const Seam& s : p.seams)
        if (s.cut < 0 || s.cut >= static_cast<int>(p.plan.nodes.size()) || s.pieceBelow < 1 || s.pieceAbove < 1 ||
            s.pieceBelow > pieces || s.pieceAbove > pieces)
            fail("a seam names a cut or a piece that is not there");
    for (const Joint& j : p.layout.joints)
        if (j.seam >= p.seams.size())
            fail("a joint names a seam that is not there");
    for (const Mark& m : p.layout.marks)
        if (m.seam >= p.seams.size())
            fail("a mark names a seam that is not there");
    for (const Witness& w : p.layout.witnesses)
        if (w.seam >= p.seams.size())
            fail("a witness line names a seam that is not there");
    for (const SeamReport& r : p.layout.reports)
        if (r.seam >= p.seams.size())
            fail("a report names a seam that is not there");
}

Project read(const json& d)
{
    Project p;
    const json& part = d.at("part");
    p.part.name = part.at("name");
    p.part.sourceFile = part.at("source_file");
    p.part.sourceSha256 = part.at("source_sha256");
    auto unit = mesh::unitFromName(part.at("source_unit").get<std::string>());
    if (!unit)
        throw json::other_error::create(502, unit.problem().what, &part);
    p.part.sourceUnit = *unit;
    p.part.scale = part.at("scale");
    p.part.material = part.at("material");
    p.part.repairs = part.at("repairs").get<std::vector<std::string>>();
    for (const json& b : d.at("beds"))
        p.beds.push_back(bed(b));
    p.marginMm = d.at("margin_mm");
    p.anyRotation = d.at("any_rotation");
    p.islandsApart = d.at("islands_apart");
    p.plan = planFrom(d.at("cuts"));
    for (const json& j : d.at("pieces"))
        p.pieces.push_back(piece(j));
    for (const json& s : d.at("seams"))
        p.seams.push_back({s.at("cut"), s.at("piece_below"), s.at("piece_above"), s.at("mark"),
                           region(s.at("region_mm")), s.at("area_mm2")});
    const JointFileAge age = d.at("version") < jointKindsVersion ? JointFileAge::DowelsOnly : JointFileAge::Now;
    p.jointOptions = jointOptionsFrom(JsonPlace(d.at("joint_options")), age);
    p.load = loadCaseIn(JsonPlace(d));
    const json& l = d.at("layout");
    for (const json& j : l.at("joints"))
        p.layout.joints.push_back(joint(j, age));
    for (const json& j : l.at("marks"))
        p.layout.marks.push_back(mark(j));
    for (const json& w : l.value("witnesses", json::array())) // not there in earlier files
        p.layout.witnesses.push_back(witness(w));
    for (const json& r : l.at("reports"))
        p.layout.reports.push_back({r.at("seam"), r.at("text"), r.at("butt"), r.at("room_mm")});
    const json& s = d.at("suggestion");
    p.suggestion.words = s.at("words");
    p.suggestion.pieces = s.at("pieces");
    p.suggestion.bound = {s.at("lower_bound"), s.at("lower_bound_reason")};
    p.suggestion.gridsTried = s.at("grids_tried");
    for (const json& n : d.at("notes"))
        p.notes.push_back({n.at("severity") == "warning" ? Note::Severity::Warning : Note::Severity::Info, n.at("text"),
                           n.at("place")});
    requireConsistent(p);
    if (age == JointFileAge::Now)
        p.assembly = assemblyPlanFrom(JsonPlace(d.at("assembly"), "/assembly"), static_cast<int>(p.pieces.size()),
                                      p.layout.joints.size());
    return p;
}

} // namespace

json toJson(const Project& p)
{
    json beds = json::array(), pieces = json::array(), seams = json::array(), notes = json::array();
    for (const Bed& b : p.beds)
        beds.push_back(of(b));
    for (const Piece& x : p.pieces)
        pieces.push_back(of(x));
    for (const Seam& s : p.seams)
        seams.push_back({{"cut", s.cut},
                         {"piece_below", s.pieceBelow},
                         {"piece_above", s.pieceAbove},
                         {"mark", s.mark},
                         {"area_mm2", s.areaMm2},
                         {"region_mm", of(s.region)}});
    for (const Note& n : p.notes)
        notes.push_back({{"severity", n.severity == Note::Severity::Info ? "info" : "warning"},
                         {"text", n.text},
                         {"place", n.place}});
    return {{"kind", documentKind},
            {"version", projectVersion},
            {"unit", "mm"},
            {"part",
             {{"name", p.part.name},
              {"source_file", p.part.sourceFile},
              {"source_sha256", p.part.sourceSha256},
              {"source_unit", mesh::unitName(p.part.sourceUnit)},
              {"scale", p.part.scale},
              {"material", p.part.material},
              {"mesh_file", "part.ply"},
              {"repairs", p.part.repairs}}},
            {"beds", beds},
            {"margin_mm", p.marginMm},
            {"any_rotation", p.anyRotation},
            {"islands_apart", p.islandsApart},
            {"cuts", planJson(p.plan)},
            {"pieces", pieces},
            {"seams", seams},
            {"joint_options", jointOptionsJson(p.jointOptions)},
            {"layout", layoutJson(p.layout)},
            {"load", toJson(p.load)},
            {"assembly", toJson(p.assembly)},
            {"suggestion",
             {{"words", p.suggestion.words},
              {"pieces", p.suggestion.pieces},
              {"lower_bound", p.suggestion.bound.pieces},
              {"lower_bound_reason", p.suggestion.bound.reason},
              {"grids_tried", p.suggestion.gridsTried}}},
            {"notes", notes}};
}

Result<Project> projectFromJson(const json& document, const std::string& file)
{
    try {
        if (!document.is_object() || document.value("kind", "") != documentKind)
            return Problem{Reason::FileMalformed, "this is not a Quoin project", file, {}, {}};
        if (const int version = document.at("version"); version > projectVersion)
            return Problem{
                Reason::VersionTooNew,
                fmt::format("the project is of version {}, this program reads up to {}", version, projectVersion),
                file,
                {},
                "Open it with a newer Quoin."};
        return read(document);
    } catch (const JsonPlace::Wrong& wrong) {
        return Problem{Reason::FileMalformed, "the project is damaged: " + wrong.what, file, wrong.place,
                       "Export it again."};
    } catch (const json::exception& e) {
        // The library's messages begin with a name of its own in brackets.
        const std::string_view words = e.what();
        const std::size_t bracket = words.find("] ");
        return Problem{Reason::FileMalformed,
                       fmt::format("the project is damaged, or was written by another version of Quoin: {}",
                                   bracket == words.npos ? words : words.substr(bracket + 2)),
                       file,
                       {},
                       "Export it again."};
    }
}

} // namespace quoin::core
