// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/console.h"
#include "app/verbs.h"

#include "core/coupon_file.h"
#include "core/length.h"
#include "core/state_folder.h"

#include <fmt/format.h>

namespace quoin::app {

namespace {

struct CouponVerb {
    std::string folder, material, machine, bed = "200x200x200";
    std::string from = "0.05", to = "0.5", step = "0.05", dowel = "8", key = "8", thread = "Printable 20x3.5",
                margin = "5";
    bool force = false;
};

Result<core::CouponOptions> optionsFrom(const CouponVerb& o)
{
    core::CouponOptions options;
    options.material = o.material;
    options.machine = o.machine;
    for (const auto& [text, value] : {std::pair{&o.from, &options.fromMm},
                                      {&o.to, &options.toMm},
                                      {&o.step, &options.stepMm},
                                      {&o.dowel, &options.dowelMm},
                                      {&o.key, &options.keyMm},
                                      {&o.margin, &options.marginMm}}) {
        const auto mm = core::lengthMmFrom(*text);
        if (!mm)
            return mm.problem();
        *value = *mm;
    }
    options.thread.reset();
    if (o.thread != "none") {
        const auto thread = core::threadFrom(o.thread);
        if (!thread)
            return thread.problem();
        options.thread = *thread;
    }
    const auto known = core::BedShelf(core::BedShelf::defaultFile()).all();
    if (!known)
        return known.problem();
    const auto bed = core::bedFromText(o.bed, *known);
    if (!bed)
        return bed.problem();
    options.bed = *bed;
    return options;
}

int make(const CouponVerb& o, const Context& context)
{
    const auto options = optionsFrom(o);
    if (!options)
        return say(options.problem());
    context.report(0, "making the coupon");
    const auto coupon = core::makeCoupon(*options, core::timeStamp().substr(0, std::string("2026-11-25").size()));
    if (!coupon)
        return say(coupon.problem());
    if (const Status s = core::writeCoupon(*coupon, o.folder, o.force); !s)
        return say(s.problem());
    clearProgress();
    const core::CouponSheet& sheet = coupon->sheet;
    fmt::print("Steps 1 to {}: {:g} to {:g} mm per side\n", sheet.steps, sheet.clearanceMm(1),
               sheet.clearanceMm(sheet.steps));
    for (const core::CouponPart& part : coupon->parts) {
        const mesh::Vec3 size = mesh::bounds(part.mesh).extents();
        fmt::print("{:<18} {:.1f} x {:.1f} x {:.1f} mm\n", part.file, size.x, size.y, size.z);
    }
    fmt::print("Print what you need of {}; coupon.txt there says how to try it. Then:\n"
               "  quoin fits set --coupon {} --process dowel --slid N --snug N\n",
               o.folder, o.folder);
    return Ok;
}

} // namespace

void addCoupon(CLI::App& app, Work& run)
{
    auto o = std::make_shared<CouponVerb>();
    CLI::App* verb =
        app.add_subcommand("coupon", "Make a fit coupon: numbered pockets at stepped clearances, to print");
    verb->add_option("folder", o->folder, "Folder to write")->required();
    verb->add_option("--material", o->material, "What you will print it in");
    verb->add_option("--machine", o->machine, "Your name for the machine that prints it");
    verb->add_option("--from", o->from, "Clearance per side of step 1 (default 0.05 mm)");
    verb->add_option("--to", o->to, "Clearance per side of the last step (default 0.5 mm)");
    verb->add_option("--step", o->step, "From one step to the next (default 0.05 mm)");
    verb->add_option("--dowel", o->dowel, "Diameter of the round gauge (default 8 mm)");
    verb->add_option("--key", o->key, "Side of the square key, diameter of the D (default 8 mm)");
    verb->add_option("--thread", o->thread,
                     "Thread of the screwed pair: \"Printable 20x3.5\" (default), \"Tr 20x4\", none");
    verb->add_option("--bed", o->bed, "Bed that must hold the plate (default 200x200x200)");
    verb->add_option("--margin", o->margin, "Room kept free on the bed (default 5 mm)");
    verb->add_flag("--force", o->force, "Replace an earlier coupon in the folder");
    verb->callback([o, &run] { run = [o](const Context& context) { return make(*o, context); }; });
}

} // namespace quoin::app
