// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/coupon_file.h"

#include "core/coupon_sheet.h"
#include "mesh/atomic_file.h"
#include "mesh/health.h"
#include "mesh/model_file.h"
#include "mesh/write_model.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstdlib>
#include <vector>

namespace quoin::core {

namespace fs = std::filesystem;

namespace {

constexpr const char* textName = "coupon.txt";
constexpr std::array threadFiles{"thread-plate.stl", "threaded-stud.stl"};

Problem cannotWrite(const fs::path& path, const std::error_code& error)
{
    return {Reason::FileUnwritable,
            "can't write here: " + error.message(),
            path.string(),
            {},
            "Choose another folder, or free some room."};
}

Status mayWrite(const fs::path& folder, bool force)
{
    std::error_code error;
    if (!fs::exists(fs::symlink_status(folder, error)))
        return Done{};
    if (!fs::is_directory(folder, error))
        return Problem{Reason::FileExists, "there is a file of this name", folder.string(), {}, "Choose another name."};
    if (fs::is_empty(folder, error))
        return Done{};
    const bool ours = isCouponSheet(folder / couponSheetName);
    if (ours && force)
        return Done{};
    return Problem{Reason::FileExists,
                   ours ? "there is an earlier coupon in this folder" : "the folder is not empty, and holds no coupon",
                   folder.string(),
                   {},
                   ours ? "Choose another folder, or replace the coupon with --force." : "Choose another folder."};
}

/// Sound as any reader finds it.
Status checkWritten(const fs::path& file)
{
    const auto model = mesh::readModel(file);
    if (!model)
        return model.problem();
    mesh::HealthOptions options;
    options.wallSamples = 0;
    if (auto why = mesh::whyNotSound(model->mesh, mesh::healthOf(model->mesh, options))) {
        why->file = file.string();
        return *why;
    }
    return Done{};
}

Status writeAll(const Coupon& coupon, const fs::path& bench)
{
    for (const CouponPart& part : coupon.parts) {
        if (const Status s = mesh::writeStl(bench / part.file, part.mesh); !s)
            return s;
        if (const Status s = checkWritten(bench / part.file); !s)
            return s;
    }
    if (const Status s = mesh::writeAtomically(bench / textName, couponText(coupon)); !s)
        return s;
    return mesh::writeAtomically(bench / couponSheetName, couponJson(coupon).dump(1) + "\n");
}

/// Moves the files over those of an earlier coupon, the sheet last: it is what makes the folder a coupon.
Status moveOver(const Coupon& coupon, const fs::path& bench, const fs::path& folder)
{
    std::vector<std::string> names;
    for (const CouponPart& part : coupon.parts)
        names.push_back(part.file);
    names.insert(names.end(), {textName, couponSheetName});
    std::error_code error;
    for (const std::string& name : names) {
        fs::rename(bench / name, folder / name, error);
        if (error)
            return cannotWrite(folder / name, error);
    }
    // What only the earlier coupon had would be taken for a part of this one.
    for (const char* name : threadFiles)
        if (std::find(names.begin(), names.end(), name) == names.end())
            fs::remove(folder / name, error);
    return Done{};
}

Status putInPlace(const Coupon& coupon, const fs::path& bench, const fs::path& folder)
{
    std::error_code error;
    if (fs::is_directory(folder, error) && !fs::is_empty(folder, error))
        return moveOver(coupon, bench, folder);
    fs::remove(folder, error); // an empty folder, or nothing
    fs::permissions(bench,
                    fs::perms::owner_all | fs::perms::group_read | fs::perms::group_exec | fs::perms::others_read |
                        fs::perms::others_exec,
                    error);
    fs::rename(bench, folder, error);
    return error ? Status(cannotWrite(folder, error)) : Status(Done{});
}

} // namespace

Status writeCoupon(const Coupon& coupon, const fs::path& folder, bool force)
{
    const fs::path target = fs::absolute(folder).lexically_normal();
    const fs::path place = target.has_filename() ? target : target.parent_path(); // "coupon/" is "coupon"
    if (const Status may = mayWrite(place, force); !may)
        return may;
    std::error_code error;
    fs::create_directories(place.parent_path(), error);
    std::string bench = (place.parent_path() / ("." + place.filename().string() + ".quoin-XXXXXX")).string();
    if (error || mkdtemp(bench.data()) == nullptr)
        return cannotWrite(place.parent_path(), error ? error : std::error_code(errno, std::generic_category()));
    Status status = writeAll(coupon, bench);
    if (status)
        status = putInPlace(coupon, bench, place);
    fs::remove_all(bench, error);
    return status;
}

std::string couponText(const Coupon& coupon)
{
    const CouponSheet& sheet = coupon.sheet;
    std::string text = fmt::format(
        "Fit coupon, {}{}{}\n\nplate.stl: under each number stand, from the number down, a round, a square and a D "
        "pocket\n(gauges: dowel.stl, {:g} mm; square-key.stl and d-key.stl, {:g} mm).\n",
        sheet.date, sheet.material.empty() ? "" : ", " + sheet.material,
        sheet.machine.empty() ? "" : " on " + sheet.machine, sheet.dowelMm, sheet.keyMm);
    if (!sheet.thread.empty())
        text +=
            fmt::format("thread-plate.stl: under each number a thread {} (gauge: threaded-stud.stl).\n", sheet.thread);
    text += "\nnumber  clearance per side, mm\n";
    for (int n = 1; n <= sheet.steps; ++n)
        text += fmt::format("{:>6}  {:.3f}\n", n, sheet.clearanceMm(n));
    text += "\nPrint every file as it lies, as you will print the pieces: same material, nozzle, layer height, "
            "walls.\nLet it cool. Take off what hangs loose, but don't file anything.\n"
            "Push each gauge into its pockets, from the widest number down, and note\n"
            "  slid   the tightest number that slides by hand without catching,\n"
            "  snug   the tightest number that goes in with a firm push of the hand,\n"
            "  press  if you like, one that goes in under a mallet or a clamp.\n"
            "A bought rod of the dowel's diameter can be tried in the round pockets.\n"
            "Then tell the program, for each process (dowel, key, thread, rod):\n"
            "  quoin fits set --coupon DIR --process dowel --slid 5 --snug 3\n";
    return text;
}

} // namespace quoin::core
