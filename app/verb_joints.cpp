// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/console.h"
#include "app/joint_word.h"
#include "app/part_option.h"
#include "app/verbs.h"

#include "core/design_file.h"
#include "core/dovetail_length.h"
#include "core/face_choice.h"
#include "core/joint_defaults.h"
#include "core/joint_json.h"
#include "core/joint_rules.h"
#include "core/length.h"
#include "core/realise.h"
#include "mesh/distance.h"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <iostream>
#include <tuple>

namespace quoin::app {

namespace {

using core::JointForm;

/// What one joint placed by hand is asked to be; empty: as suits the kind and the room.
struct FormWish {
    std::string kind, at, diameter, depth, thread, carrier, section, taper, rod, hold, grip, length;
    double angle = 0;
    bool hasAngle = false, keyed = false, integral = false;
};

struct JointsVerb {
    std::string design, save, face, kind, fit, size, witness;
    std::vector<std::string> parts;
    bool plain = false, automatic = false, asJson = false;
    int remove = 0;
    FormWish form;
    bool edits() const { return editsFace() || !witness.empty(); }
    bool editsFace() const
    {
        return plain || automatic || remove > 0 || !kind.empty() || !fit.empty() || !size.empty() || !form.kind.empty();
    }
};

Problem bad(const std::string& what, const std::string& remedy = {})
{
    return {Reason::BadArgument, what, {}, {}, remedy};
}

Status setLength(const std::string& text, double& mm)
{
    if (text.empty())
        return Done{};
    const auto length = core::lengthMmFrom(text);
    if (!length)
        return length.problem();
    mm = *length;
    return Done{};
}

/// "12,30" in mm.
Result<mesh::Vec2> placeFrom(const std::string& text)
{
    const std::size_t comma = text.find(',');
    const auto x = core::lengthMmFrom(text.substr(0, comma));
    const auto y = comma == std::string::npos ? x : core::lengthMmFrom(text.substr(comma + 1));
    if (comma == std::string::npos || !x || !y)
        return bad(fmt::format("\"{}\" is no place on a face", text), "Give it as x,y such as 12,30.");
    return mesh::Vec2{*x, *y};
}

/// Free radius and depths at a place of a seam, as a first guess for sizes.
core::JointSpace spaceAt(const core::Project& project, std::size_t seam, mesh::Vec2 at)
{
    const core::Seam& s = project.seams[seam];
    const mesh::Plane& cut = project.plan.nodes[static_cast<std::size_t>(s.cut)].plane;
    core::JointSpace space;
    const double free = mesh::contains(s.region, at) ? mesh::distanceToOutline(s.region, at) : 0;
    space.radiusMm = std::max(free - project.jointOptions.wallMm - project.jointOptions.clearances.dowelMm, 1.0);
    const mesh::Vec3 mouth = mesh::frameOf(cut).space(at);
    for (const bool above : {false, true}) {
        const mesh::SurfaceTree tree(
            project.pieces[static_cast<std::size_t>(above ? s.pieceAbove : s.pieceBelow) - 1].mesh);
        const auto through = tree.firstHit(mouth, (above ? 1 : -1) * cut.normal, 1e-3);
        (above ? space.depthAboveMm : space.depthBelowMm) =
            std::max(through.value_or(1) - project.jointOptions.wallMm, 1.0);
    }
    return space;
}

Status setThread(const std::string& text, JointForm& form)
{
    if (text.empty())
        return Done{};
    const auto thread = core::threadFrom(text);
    if (!thread)
        return thread.problem();
    form.diameterMm = thread->diameterMm;
    form.thread = {thread->profile == core::Thread::Profile::Trapezoidal, thread->pitchMm, thread->starts,
                   thread->leftHand};
    return Done{};
}

/// Options that not every kind has; each goes with a key of the kind's JSON.
Status checkOptions(const JointForm& form, const FormWish& wish)
{
    const nlohmann::json j = core::jointFormJson(form);
    const auto given = [](const std::string& text) { return !text.empty(); };
    const std::tuple<const char*, const char*, bool> options[] = {{"--carrier", "carrier", given(wish.carrier)},
                                                                  {"--section", "section", given(wish.section)},
                                                                  {"--rod", "rod", given(wish.rod)},
                                                                  {"--hold", "hold", given(wish.hold)},
                                                                  {"--taper", "taper_mm", given(wish.taper)},
                                                                  {"--grip", "grip_mm", given(wish.grip)},
                                                                  {"--length", "length_mm", given(wish.length)},
                                                                  {"--thread", "thread", given(wish.thread)},
                                                                  {"--keyed", "keyed", wish.keyed},
                                                                  {"--integral", "integral", wish.integral}};
    for (const auto& [option, key, isGiven] : options)
        if (isGiven && !j.contains(key))
            return bad(fmt::format("a {} has no {}", core::kindName(form.kind), option + 2),
                       fmt::format("Leave {} out.", option));
    return Done{};
}

/// The rest of a wish as its JSON: words are checked where files are.
Result<JointForm> withWords(const JointForm& form, const FormWish& wish)
{
    if (const Status s = checkOptions(form, wish); !s)
        return s.problem();
    nlohmann::json j = core::jointFormJson(form);
    for (const auto& [key, word] : {std::pair("carrier", &wish.carrier), std::pair("section", &wish.section),
                                    std::pair("rod", &wish.rod), std::pair("hold", &wish.hold)})
        if (!word->empty())
            j[key] = *word;
    if (wish.keyed)
        j["keyed"] = true;
    if (wish.integral)
        j["integral"] = true;
    try {
        return core::jointFormFrom(core::JsonPlace(j));
    } catch (const core::JsonPlace::Wrong& wrong) {
        return bad(wrong.what);
    }
}

Result<JointForm> formFor(const core::Project& project, std::size_t seam, const FormWish& wish)
{
    const auto kind = jointKindOf(wish.kind);
    if (!kind)
        return bad(fmt::format("unknown kind of joint \"{}\"", wish.kind));
    mesh::Vec2 at = core::placeOn(project.seams[seam].region);
    if (!wish.at.empty()) {
        const auto place = placeFrom(wish.at);
        if (!place)
            return place.problem();
        at = *place;
    }
    JointForm form = core::jointFor(*kind, at, spaceAt(project, seam, at));
    // Sizes that are sold, and the depth that goes with them, come before numbers of one's own.
    const auto worded = withWords(form, wish);
    if (!worded)
        return worded.problem();
    if (*kind == JointForm::Kind::Dowel)
        form = core::withRod(form, worded->rod);
    if (*kind == JointForm::Kind::DrawBolt)
        form = core::withHold(form, worded->hold);
    if (!wish.diameter.empty()) {
        double diameter = form.diameterMm;
        if (const Status s = setLength(wish.diameter, diameter); !s)
            return s.problem();
        form = core::withDiameter(form, diameter);
    }
    if (const Status s = setThread(wish.thread, form); !s)
        return s.problem();
    for (const auto& [text, mm] : {std::pair(&wish.depth, &form.depthMm), std::pair(&wish.taper, &form.taperMm),
                                   std::pair(&wish.grip, &form.gripMm), std::pair(&wish.length, &form.lengthMm)})
        if (const Status s = setLength(*text, *mm); !s)
            return s.problem();
    if (wish.hasAngle)
        form.angle = wish.angle * M_PI / 180;
    if (wish.length.empty())
        form = core::keptOn(project.seams[seam].region, form, project.jointOptions.wallMm);
    return withWords(form, wish);
}

Result<std::size_t> seamOf(const core::Project& project, const std::string& mark)
{
    for (std::size_t s = 0; s < project.seams.size(); ++s)
        if (project.seams[s].mark == mark)
            return s;
    std::string marks;
    for (const core::Seam& s : project.seams)
        marks += (marks.empty() ? "" : ", ") + s.mark;
    return bad(fmt::format("there is no face {}", mark), "Faces: " + marks + ".");
}

Status changeChoice(const JointsVerb& o, const core::Realised& r, std::size_t seam, core::FaceChoice& choice)
{
    using How = core::FaceChoice::How;
    if (o.plain || o.automatic) {
        choice.how = o.plain ? How::Plain : How::Automatic;
        if (o.automatic) {
            choice.kind.reset();
            choice.clocked = false;
            choice.diameterMm.reset();
            choice.fit.reset();
        }
    }
    if (!o.kind.empty()) {
        choice.how = How::Automatic;
        const JointWish wish = jointWishOf(o.kind);
        choice.kind = wish.kind;
        choice.clocked = wish.clocked;
    }
    if (!o.size.empty()) {
        const auto size = core::lengthMmFrom(o.size);
        if (!size)
            return size.problem();
        choice.diameterMm = *size;
    }
    if (!o.fit.empty())
        for (const core::Fit fit : {core::Fit::Free, core::Fit::Sliding, core::Fit::Snug, core::Fit::Press})
            if (o.fit == core::fitName(fit))
                choice.fit = fit;
    if ((o.remove > 0 || !o.form.kind.empty()) && choice.how != How::ByHand)
        choice = core::takenByHand(choice, o.form.kind.empty() ? r.project.layout : core::JointLayout{}, seam);
    if (o.remove > 0) {
        if (static_cast<std::size_t>(o.remove) > choice.joints.size())
            return bad(fmt::format("face {} has no joint {}", o.face, o.remove));
        choice.joints.erase(choice.joints.begin() + o.remove - 1);
    }
    if (!o.form.kind.empty()) {
        const auto form = formFor(r.project, seam, o.form);
        if (!form)
            return form.problem();
        if (const Status s = core::checkForm(*form); !s)
            return s;
        choice.joints.push_back(*form);
    }
    return Done{};
}

Status edit(const JointsVerb& o, core::Design& design, core::PartDesign& part, const Context& context)
{
    core::RealisedPtr last;
    const auto whole = core::realise(
        design, part, {}, [&](core::RealisedPtr stage) { last = std::move(stage); }, context);
    // Joints that can't be made must be got rid of somehow: their faces are there all the same.
    const bool takesAway = o.plain || o.automatic || o.remove > 0;
    if (!whole && (!last || !takesAway))
        return whole.problem();
    const core::Realised& r = *last;
    const auto seam = seamOf(r.project, o.face);
    if (!seam)
        return seam.problem();
    core::FaceChoice choice = core::choiceFor(r.project, r.cutOfNode, part, *seam);
    if (const Status s = changeChoice(o, r, *seam, choice); !s)
        return s;
    part = core::withFaceChoice(r.project, r.cutOfNode, part, choice);
    return Done{};
}

/// Where a face lies in its own frame, and that frame in the part: what --at counts in.
struct FaceFrame {
    mesh::Vec2 low{0, 0}, high{0, 0}; ///< mm
    mesh::PlaneFrame frame;
};

FaceFrame faceFrame(const core::Project& project, const core::Seam& seam)
{
    FaceFrame f{
        {1e300, 1e300}, {-1e300, -1e300}, mesh::frameOf(project.plan.nodes[static_cast<std::size_t>(seam.cut)].plane)};
    for (const mesh::Loop& loop : seam.region)
        for (const mesh::Vec2& p : loop) {
            f.low = {std::min(f.low.x, p.x), std::min(f.low.y, p.y)};
            f.high = {std::max(f.high.x, p.x), std::max(f.high.y, p.y)};
        }
    return f;
}

std::string placeWords(const mesh::Vec3& p)
{
    return fmt::format("({:.4g}, {:.4g}, {:.4g})", p.x + 0.0, p.y + 0.0, p.z + 0.0);
}

nlohmann::json listJson(const core::Project& project)
{
    nlohmann::json faces = nlohmann::json::array();
    for (std::size_t s = 0; s < project.seams.size(); ++s) {
        const core::Seam& seam = project.seams[s];
        nlohmann::json joints = nlohmann::json::array();
        for (std::size_t j = 0; j < project.layout.joints.size(); ++j)
            if (project.layout.joints[j].seam == s) {
                nlohmann::json joint = core::jointFormJson(project.layout.joints[j]);
                joint["name"] = core::jointName(project.seams, project.layout.joints, j);
                joint["clearance_mm"] = project.layout.joints[j].clearanceMm;
                for (const core::JointFault& fault : project.layout.faults)
                    if (fault.joint == j)
                        joint["fault"] = fault.text;
                joints.push_back(std::move(joint));
            }
        const FaceFrame f = faceFrame(project, seam);
        const auto three = [](const mesh::Vec3& v) { return nlohmann::json{v.x, v.y, v.z}; };
        faces.push_back(
            {{"face", seam.mark},
             {"pieces", {seam.pieceBelow, seam.pieceAbove}},
             {"area_mm2", seam.areaMm2},
             {"x_mm", {f.low.x, f.high.x}},
             {"y_mm", {f.low.y, f.high.y}},
             {"frame", {{"origin_mm", three(f.frame.origin)}, {"x", three(f.frame.u)}, {"y", three(f.frame.v)}}},
             {"words", project.layout.reports[s].text},
             {"joints", joints}});
    }
    return faces;
}

void print(const core::Project& project)
{
    fmt::print("{}\n", project.part.name);
    for (std::size_t s = 0; s < project.seams.size(); ++s) {
        const core::Seam& seam = project.seams[s];
        fmt::print("  face {:<3} pieces {} and {}, {:.1f} cm2: {}\n", seam.mark, seam.pieceBelow, seam.pieceAbove,
                   seam.areaMm2 / 100, project.layout.reports[s].text);
        const FaceFrame f = faceFrame(project, seam);
        fmt::print(
            "       x from {:.1f} to {:.1f} mm, y from {:.1f} to {:.1f} mm; its 0,0 is at {} of the part, x runs "
            "along {}, y along {}\n",
            f.low.x, f.high.x, f.low.y, f.high.y, placeWords(f.frame.origin), placeWords(f.frame.u),
            placeWords(f.frame.v));
        for (std::size_t j = 0; j < project.layout.joints.size(); ++j)
            if (const core::Joint& joint = project.layout.joints[j]; joint.seam == s)
                fmt::print("    {:<4} {} {}, {:.1f} mm deep, at {:.1f}, {:.1f} mm, {:.2f} mm clearance a side\n",
                           core::jointName(project.seams, project.layout.joints, j), core::kindName(joint.kind),
                           core::sizeName(joint), joint.depthMm, joint.at.x, joint.at.y, joint.clearanceMm);
        for (const core::JointFault& fault : project.layout.faults)
            if (project.layout.joints[fault.joint].seam == s)
                fmt::print("    ! {}: {}\n", core::jointName(project.seams, project.layout.joints, fault.joint),
                           fault.text);
    }
}

int joints(const JointsVerb& o, const Context& context)
{
    core::MeshKeeper keeper;
    const auto opened = core::openDesign(o.design, keeper, {}, context);
    if (!opened)
        return say(opened.problem());
    core::Design design = opened->design;
    const auto ids = partIds(design, o.parts);
    if (!ids)
        return say(ids.problem());
    if (o.editsFace() && (ids->size() != 1 || o.face.empty()))
        return say(bad("a change is for one face of one part", "Name the part (--part) and the face (--face A)."));
    if (!o.witness.empty())
        for (const int id : *ids)
            design.part(id)->joints.witness = o.witness == "yes";
    if (o.editsFace())
        if (const Status s = edit(o, design, *design.part(ids->front()), context); !s)
            return say(s.problem());
    std::vector<core::RealisedPtr> realised;
    for (const int id : *ids) {
        auto r = core::realise(design, *design.part(id), {}, {}, context);
        clearProgress();
        if (!r)
            return say(r.problem());
        realised.push_back(std::move(*r));
    }
    // Only what can be laid out is kept, so that the design can be opened again.
    if (o.edits()) {
        const auto file = core::withDesignSuffix(o.save.empty() ? o.design : o.save);
        if (const Status s = core::saveDesign(design, file, keeper, context); !s)
            return say(s.problem());
    }
    nlohmann::json list = nlohmann::json::array();
    for (const core::RealisedPtr& r : realised) {
        if (o.asJson)
            list.push_back({{"part", r->project.part.name}, {"faces", listJson(r->project)}});
        else
            print(r->project);
    }
    if (o.asJson)
        std::cout << list.dump(1, ' ', false, nlohmann::json::error_handler_t::replace) << "\n";
    return Ok;
}

/// The options of a joint placed by hand; they go with the one returned.
CLI::Option* addForm(CLI::App& verb, FormWish& f)
{
    const auto kinds = CLI::IsMember(jointWords());
    CLI::Option* place = verb.add_option("--place", f.kind, "Put a joint of this kind on the face by hand");
    place->check(kinds);
    verb.add_option("--at", f.at, "Its place on the face, x,y in the cut's frame (default: the roomiest)");
    verb.add_option("--diameter", f.diameter,
                    "Of the dowel, the thread, the circle round a key; metric size of a bolt");
    verb.add_option("--depth", f.depth, "Reach into a side; of a draw bolt to its nut, or the insert's");
    verb.add_option("--thread", f.thread, "Of a screw or stud: \"Tr 40x7\", \"Printable 40x6\", \"Tr 60x18(P9)LH\"");
    verb.add_option("--angle", f.angle, "Degrees: of a flat, a key, a dovetail's or a clocking key's way, a side slot")
        ->each([&f](const std::string&) { f.hasAngle = true; });
    verb.add_option("--carrier", f.carrier, "The side that a screw or key is grown on, or a bolt's head is in")
        ->check(CLI::IsMember({"below", "above"}));
    verb.add_flag("--integral", f.integral, "A key grown on its carrier");
    verb.add_option("--section", f.section, "Of a key")->check(CLI::IsMember({"square", "D", "cross"}));
    verb.add_option("--taper", f.taper, "A key is narrower at its ends by so much a side");
    verb.add_option("--rod", f.rod, "What a dowel is made of")->check(CLI::IsMember({"printed", "wood", "steel"}));
    verb.add_flag("--keyed", f.keyed, "A dowel that can't turn");
    verb.add_option("--grip", f.grip, "Of a draw bolt: from the face to the seat of its head");
    verb.add_option("--hold", f.hold, "Of a draw bolt")
        ->check(CLI::IsMember({"nut from the far side", "nut from the side", "heat-set insert"}));
    verb.add_option("--length", f.length, "Of a dovetail, of a clocking key");
    for (const char* name : {"--at", "--diameter", "--depth", "--thread", "--angle", "--carrier", "--integral",
                             "--section", "--taper", "--rod", "--keyed", "--grip", "--hold", "--length"})
        verb.get_option(name)->needs(place);
    return place;
}

} // namespace

void addJoints(CLI::App& app, Work& run)
{
    auto o = std::make_shared<JointsVerb>();
    CLI::App* verb =
        app.add_subcommand("joints", "The joints of a saved design, face by face; change what a face is held by");
    verb->add_option("design", o->design, "NAME.quoin.json")->required();
    verb->add_option("--save", o->save, "Save a change under this name (default: the design itself)");
    verb->add_option("--part", o->parts, "Only the part of this name; may be repeated")->allow_extra_args(false);
    verb->add_option("--face", o->face, "The face to change, by its mating mark");
    verb->add_option("--kind", o->kind, "Choose this kind for the face")->check(CLI::IsMember(jointWishWords()));
    verb->add_option("--size", o->size, "Choose this size or smaller for the face");
    verb->add_option("--fit", o->fit, "Fit on the face")->check(CLI::IsMember({"free", "sliding", "snug", "press"}));
    CLI::Option* plain = verb->add_flag("--plain", o->plain, "No joint on the face: glue");
    CLI::Option* automatic = verb->add_flag("--auto", o->automatic, "Back to what suits the face");
    verb->add_option("--remove", o->remove, "Take joint N off the face; the others stay where they are");
    CLI::Option* place = addForm(*verb, o->form);
    for (CLI::Option* whole : {plain, automatic})
        for (const char* name : {"--plain", "--auto", "--remove", "--kind", "--size"})
            if (CLI::Option* other = verb->get_option(name); other != whole)
                whole->excludes(other);
    place->excludes(plain)->excludes(automatic)->excludes(verb->get_option("--kind"));
    verb->add_option("--witness", o->witness, "A witness line across every seam of the part, outside: yes or no")
        ->check(CLI::IsMember({"yes", "no"}));
    verb->add_flag("--json", o->asJson, "For programs");
    verb->callback([o, &run] { run = [o](const Context& context) { return joints(*o, context); }; });
}

} // namespace quoin::app
