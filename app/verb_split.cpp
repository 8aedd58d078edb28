// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/console.h"
#include "app/joint_word.h"
#include "app/load_option.h"
#include "app/report.h"
#include "app/search_option.h"
#include "app/unit_option.h"
#include "app/verbs.h"

#include "core/design_file.h"
#include "core/hanging.h"
#include "core/length.h"
#include "core/split_job.h"
#include "ui/picture.h"

#include <fmt/format.h>

#include <charconv>
#include <cmath>
#include <iostream>

namespace quoin::app {

namespace {

struct SplitOptions {
    std::string file, out, save, machine, unit, width, depth, height, joint = "auto", material = "PLA", fit = "sliding",
                                                                      margin = "5mm", wall;
    double scale = 0;
    bool largest = false, force = false, asJson = false, anyRotation = false, repair = false, together = false,
         noPictures = false, unproved = false, noMarks = false, witness = false;
    std::vector<std::string> beds, planes;
    SearchOptions search;
    LoadOptions load;
};

Problem badPlane(const std::string& text)
{
    return {Reason::BadArgument,
            "\"" + text + "\" is not a plane",
            {},
            {},
            "Write normal@distance, as in --plane \"0,0,1@350\" (mm, in the scaled model's frame)."};
}

Result<mesh::Plane> planeFrom(const std::string& text)
{
    const std::size_t at = text.find('@');
    if (at == std::string::npos)
        return badPlane(text);
    std::array<double, 3> n{};
    const char* from = text.data();
    const char* const end = text.data() + at;
    for (std::size_t i = 0; i < 3; ++i) {
        while (from != end && (*from == ' ' || *from == '+'))
            ++from;
        const auto [next, error] = std::from_chars(from, end, n[i]);
        if (error != std::errc{} || !std::isfinite(n[i]))
            return badPlane(text);
        from = next;
        while (from != end && *from == ' ')
            ++from;
        if (i < 2 ? (from == end || *from++ != ',') : from != end)
            return badPlane(text);
    }
    std::string_view distance = std::string_view(text).substr(at + 1);
    const bool negative = !distance.empty() && distance.front() == '-';
    const auto length = core::lengthMmFrom(negative ? distance.substr(1) : distance);
    const mesh::Vec3 normal{n[0], n[1], n[2]};
    if (!length || !(mesh::length(normal) > 0))
        return badPlane(text);
    return mesh::planeAt(normal, negative ? -*length : *length);
}

Status setScaling(const SplitOptions& o, core::Scaling& scaling)
{
    using How = core::Scaling::How;
    int ways = 0;
    const auto take = [&](How how, const std::string& text) -> Status {
        if (text.empty())
            return Done{};
        const auto length = core::lengthMmFrom(text);
        if (!length)
            return length.problem();
        scaling = {how, *length};
        ++ways;
        return Done{};
    };
    for (const Status& s : {take(How::Width, o.width), take(How::Depth, o.depth), take(How::Height, o.height)})
        if (!s)
            return s;
    if (o.scale != 0) {
        scaling = {How::Factor, o.scale};
        ++ways;
    }
    if (o.largest) {
        scaling = {How::LargestOnBed, 0};
        ++ways;
    }
    if (ways > 1)
        return Problem{Reason::BadArgument,
                       "the size is given in more than one way",
                       {},
                       {},
                       "Give one of --scale, --width, --depth, --height, --largest."};
    return Done{};
}

Status setFit(const std::string& text, core::Fit& fit)
{
    for (const core::Fit f : {core::Fit::Free, core::Fit::Sliding, core::Fit::Snug, core::Fit::Press})
        if (core::fitName(f) == text) {
            fit = f;
            return Done{};
        }
    return Problem{Reason::BadArgument, "unknown fit \"" + text + "\"", {}, {}, "Known: free, sliding, snug, press."};
}

Result<core::SplitRequest> requestFrom(const SplitOptions& o)
{
    core::SplitRequest r;
    r.file = o.file;
    const auto unit = unitOption(o.unit);
    if (!unit)
        return unit.problem();
    r.read.unit = *unit;
    r.repair = o.repair;
    for (const Status& s : {setScaling(o, r.scaling), setFit(o.fit, r.fit)})
        if (!s)
            return s.problem();
    const auto known = o.beds.empty() ? Result<std::vector<core::Bed>>(std::vector<core::Bed>{})
                                      : core::BedShelf(core::BedShelf::defaultFile()).all();
    if (!known)
        return known.problem();
    for (const std::string& text : o.beds) {
        auto bed = core::bedFromText(text, *known);
        if (!bed)
            return bed.problem();
        r.beds.push_back(std::move(*bed));
    }
    for (const std::string& text : o.planes) {
        const auto plane = planeFrom(text);
        if (!plane)
            return plane.problem();
        r.planes.push_back(*plane);
    }
    const auto margin = core::lengthMmFrom(o.margin);
    if (!margin)
        return margin.problem();
    if (*margin < 0)
        return Problem{Reason::BadArgument, "the margin can't be negative", {}, {}, {}};
    r.marginMm = *margin;
    r.anyRotation = o.anyRotation;
    r.islandsApart = !o.together;
    r.joints.wanted = o.joint != "none";
    if (o.joint != "none" && o.joint != "auto") {
        const JointWish wish = jointWishOf(o.joint);
        r.joints.kind = wish.kind;
        r.joints.clocked = wish.clocked;
    }
    r.joints.marks = !o.noMarks;
    r.joints.witness = o.witness;
    if (!o.wall.empty()) {
        const auto wall = core::lengthMmFrom(o.wall);
        if (!wall)
            return wall.problem();
        r.joints.wallMm = *wall;
    }
    auto load = loadWith(o.load, {});
    if (!load)
        return load.problem();
    r.load = std::move(*load);
    r.material = o.material;
    r.machine = o.machine;
    const auto fits = core::FitTable::load(core::FitTable::defaultFile());
    if (!fits)
        return fits.problem();
    r.fits = fits->own();
    const auto wish = wishFrom(o.search);
    if (!wish)
        return wish.problem();
    r.seed = wish->seed;
    r.seconds = wish->seconds;
    r.weights = wish->weights;
    r.morePieces = wish->morePieces;
    r.alternatives = wish->alternatives;
    r.take = o.search.take;
    return r;
}

Status saveIfAsked(const SplitOptions& o, const core::Design& design, const Context& context)
{
    if (o.save.empty())
        return Done{};
    core::MeshKeeper keeper;
    const std::filesystem::path file = core::withDesignSuffix(o.save);
    if (const Status s = core::saveDesign(design, file, keeper, context); !s)
        return s;
    if (!o.asJson) {
        clearProgress();
        fmt::print("design saved to {}\n", file.string());
    }
    return Done{};
}

int split(const SplitOptions& o, const Context& context)
{
    const auto request = requestFrom(o);
    if (!request)
        return say(request.problem());
    if (o.out.empty() && o.save.empty())
        return say({Reason::BadArgument,
                    "nothing to write was named",
                    {},
                    {},
                    "Give --out FOLDER for the pieces, --save FILE for the design, or both."});
    core::Design design;
    const auto project = core::split(*request, context, &design);
    if (!project)
        return say(project.problem());
    if (const Status s = core::checkLoadCase(*project, project->load); !s)
        return say(s.problem());
    if (const Status s = saveIfAsked(o, design, context); !s)
        return say(s.problem());
    if (o.out.empty())
        return Ok;
    core::ExportOptions options;
    options.force = o.force;
    options.evenIfProofFails = o.unproved;
    if (!o.noPictures)
        options.draw = ui::drawPictures;
    const auto exported = core::exportProject(*project, o.out, options, context);
    if (!exported)
        return say(exported.problem());
    if (o.asJson)
        std::cout << splitJson(*project, *exported, request->weights).dump(1) << "\n";
    else
        printSplit(*project, *exported, request->weights);
    return exported->proof.holds() ? Ok : ProofDoesNotHold;
}

} // namespace

void addSplit(CLI::App& app, Work& run)
{
    auto o = std::make_shared<SplitOptions>();
    CLI::App* verb =
        app.add_subcommand("split", "Scale a model, cut it to fit beds, joint the faces, prove, and export");
    verb->add_option("file", o->file, "Model: STL, OBJ, PLY, OFF, 3MF")->required();
    verb->add_option("--out", o->out, "Folder to write the pieces to");
    verb->add_option("--save", o->save, "Save the design, to be opened again: NAME.quoin.json");
    verb->add_option("--unit", o->unit, "Unit of a file that says none: mm (default), cm, m, inch");
    verb->add_flag("--repair", o->repair, "Repair the model first, only as needed");
    verb->add_option("--scale", o->scale, "Factor, such as 7.5")->check(CLI::PositiveNumber);
    verb->add_option("--width", o->width, "Wanted size along x: 1800mm, 1.8 m, 70 inch");
    verb->add_option("--depth", o->depth, "Wanted size along y");
    verb->add_option("--height", o->height, "Wanted size along z");
    verb->add_flag("--largest", o->largest, "As large as fits a bed uncut");
    verb->add_option("--bed", o->beds,
                     "300x300x400, d250x300 (round), or a name of yours; may be repeated; *2: two machines")
        ->allow_extra_args(false);
    verb->add_option("--margin", o->margin, "Kept free on all sides of the bed and at the top (default 5mm)");
    verb->add_option("--plane", o->planes, "Cut here: normal@distance, such as \"0,0,1@350\"; may be repeated")
        ->allow_extra_args(false);
    verb->add_flag("--any-rotation", o->anyRotation, "Pieces may also be printed standing on no flat face");
    verb->add_flag("--islands-together", o->together, "Parts of one cell that don't touch stay one piece");
    std::vector<std::string> wishes = jointWishWords();
    wishes.insert(wishes.end(), {"auto", "none"});
    verb->add_option("--joint", o->joint,
                     "What holds the faces together: auto (default) takes what suits each, dowel, screw, screw+key (a "
                     "clocking key beside it, so that it can't turn back), stud, stud+key, key, dovetail, draw-bolt; "
                     "none: marks only")
        ->check(CLI::IsMember(wishes));
    verb->add_option("--material", o->material, "PLA (default), PETG, ABS, ASA, PA12, PA6: sets the clearance");
    verb->add_option("--machine", o->machine, "Your name for the machine: sets the clearance (quoin fits)");
    verb->add_option("--fit", o->fit, "Of loose parts: free, sliding (default), snug, press");
    verb->add_option("--wall", o->wall, "Least wall around a bore (default 2.4mm)");
    verb->add_flag("--no-marks", o->noMarks, "No numbers and mating marks on the cut faces");
    verb->add_flag("--witness", o->witness,
                   "A witness line across every seam: a shallow groove outside, straight when the pieces stand right");
    addLoadOptions(*verb, o->load);
    o->search.alternatives = 1;
    addSearchOptions(*verb, o->search);
    verb->add_flag("--force", o->force, "Replace an earlier export in the folder");
    verb->add_flag("--even-if-unproved", o->unproved, "Write the folder even when a claim of the proof fails");
    verb->add_flag("--no-pictures", o->noPictures, "Leave out assembled.png and exploded.png");
    verb->add_flag("--json", o->asJson, "A summary for programs");
    verb->callback([o, &run] { run = [o](const Context& context) { return split(*o, context); }; });
}

} // namespace quoin::app
