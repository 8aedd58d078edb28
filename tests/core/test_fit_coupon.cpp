// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/coupon_file.h"
#include "mesh/distance.h"
#include "mesh/health.h"
#include "mesh/mass.h"
#include "mesh/model_file.h"
#include "tests/support/model_text.h"
#include "tests/support/scratch.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <set>

using namespace quoin;
using namespace quoin::core;
using namespace quoin::test;
namespace fs = std::filesystem;

namespace {

constexpr const char* day = "2026-11-25";

CouponOptions few()
{
    CouponOptions o;
    o.material = "PLA";
    o.machine = "big one";
    o.fromMm = 0.1;
    o.toMm = 0.4;
    o.stepMm = 0.1;
    o.thread.reset();
    return o;
}

mesh::Mesh readBack(const fs::path& file)
{
    const auto model = mesh::readModel(file);
    REQUIRE(model.ok());
    mesh::HealthOptions options;
    options.wallSamples = 0;
    const mesh::Health health = mesh::healthOf(model->mesh, options);
    INFO(file.string());
    CHECK(health.sound());
    CHECK(health.bodies.size() == 1);
    CHECK(mesh::bounds(model->mesh).min.z == 0);
    return model->mesh;
}

mesh::Vec3 sizeOf(const Coupon& coupon, std::size_t part)
{
    return mesh::bounds(coupon.parts[part].mesh).extents();
}

CouponSheet sheet()
{
    const auto coupon = makeCoupon(few(), day);
    REQUIRE(coupon.ok());
    return coupon->sheet;
}

} // namespace

TEST_CASE("fit coupon: pockets of every kind at every step, measured on the files")
{
    const ScratchFolder scratch;
    const fs::path folder = scratch / "coupon";
    const auto coupon = makeCoupon(CouponOptions{}, day);
    REQUIRE(coupon.ok());
    REQUIRE(writeCoupon(*coupon, folder, false).ok());
    const mesh::Mesh plate = readBack(folder / "plate.stl");
    for (const char* gauge : {"dowel.stl", "square-key.stl", "d-key.stl"})
        readBack(folder / gauge);
    const auto read = readCouponSheet(folder);
    REQUIRE(read.ok());
    CHECK(read->steps == 10);
    CHECK(read->pockets.size() == 40);
    const mesh::SurfaceTree tree(plate);
    // From the middle of a pocket the nearest wall stands half a gauge and the clearance away: for the round one in any
    // direction, for the square along x and y, for the D at its flat, half a radius away. 8 mm gauges; a chord is at
    // most 0.02 mm off (mesh/tolerance.h).
    for (const CouponPocket& p : read->pockets) {
        if (p.pair == CouponPair::Thread)
            continue;
        INFO(pairName(p.pair) << " " << p.number);
        CHECK(p.clearanceMm == Approx(0.05 * p.number).margin(1e-9));
        const mesh::Vec3 middle = p.mouth - mesh::Vec3{0, 0, 2.5};
        const double flat = p.pair == CouponPair::DShape ? 2 : 4;
        CHECK(tree.firstHit(middle, {1, 0, 0}).value() == Approx(flat + p.clearanceMm).margin(0.0201));
        CHECK(tree.firstHit(middle, {-1, 0, 0}).value() == Approx(4 + p.clearanceMm).margin(0.0201));
        CHECK(tree.firstHit(middle, {0, 1, 0}).value() == Approx(4 + p.clearanceMm).margin(0.0201));
        CHECK(p.measuredMm == Approx(p.clearanceMm).margin(0.0451));
        CHECK(p.measuredMm > p.clearanceMm - 1e-4);
        CHECK(tree.firstHit(middle, {0, 0, -1}).value() == Approx(6 - 2.5).margin(1e-4)); // depth: 0.75 x 8
    }
}

TEST_CASE("fit coupon: the threaded pair, measured on the files, at rest and turned")
{
    const ScratchFolder scratch;
    const fs::path folder = scratch / "coupon";
    CouponOptions o = few();
    const bool leftHand = GENERATE(false, true);
    o.thread = Thread{leftHand ? Thread::Profile::Trapezoidal : Thread::Profile::Printable, 20, leftHand ? 4.0 : 3.5,
                      leftHand ? 2 : 1, leftHand};
    const auto coupon = makeCoupon(o, day);
    INFO((coupon.ok() ? "" : coupon.problem().sentence()));
    REQUIRE(coupon.ok());
    REQUIRE(writeCoupon(*coupon, folder, false).ok());
    const mesh::Mesh plate = readBack(folder / "thread-plate.stl"), stud = readBack(folder / "threaded-stud.stl");
    const CouponSheet read = *readCouponSheet(folder);
    CHECK(read.thread == (leftHand ? "Tr 20x8(P4)LH" : "Printable 20x3.5"));
    const mesh::SurfaceTree plateTree(plate);
    const ThreadDimensions dimensions = *dimensionsOf(*o.thread);
    // The lead angle where the bore is nearest to the axis: the offset in the axial plane is c / cos (thread_mesh.h).
    const double lead = std::atan(dimensions.leadMm / (M_PI * dimensions.minorMm));
    for (const CouponPocket& p : read.pockets) {
        if (p.pair != CouponPair::Thread)
            continue;
        INFO(p.number);
        CHECK(p.measuredMm > p.clearanceMm - 1e-4);
        CHECK(p.measuredMm < p.clearanceMm + 0.0451);
        const mesh::Vec3 middle = p.mouth - mesh::Vec3{0, 0, 1.5 * dimensions.pitchMm};
        double nearest = 1e9;
        for (int k = 0; k < 120; ++k) {
            const double a = 2 * M_PI * k / 120;
            nearest = std::min(nearest, plateTree.firstHit(middle, {std::cos(a), std::sin(a), 0}).value());
        }
        CHECK(nearest == Approx(dimensions.internalMinorMm / 2 + p.clearanceMm / std::cos(lead)).margin(0.06));
        // The stud as written, grip down, put into the bore upside down: backed out by turns it keeps clear, pulled
        // straight out it runs into the thread.
        const auto gapAt = [&](double lift, double turn) {
            double least = 1e9;
            for (const mesh::Vec3 q : stud.points) {
                const mesh::Vec3 up{q.x, q.y, q.z - 8}; // the grip is 8 mm high
                const double c = std::cos(turn), s = std::sin(turn);
                const mesh::Vec3 turned{c * up.x - s * up.y, s * up.x + c * up.y, up.z - lift};
                const mesh::Vec3 at = p.mouth + mesh::Vec3{turned.x, -turned.y, -turned.z};
                const double gap = plateTree.distance(at);
                least = std::min(least, at.z < p.mouth.z && plateTree.inside(at) ? -gap : gap);
            }
            return least;
        };
        const double hand = leftHand ? 1 : -1;
        for (const double lift : {p.clearanceMm + 0.5, 1.7, 2.9}) {
            const double turn = hand * 2 * M_PI * lift / dimensions.leadMm;
            CHECK(gapAt(lift, turn) > p.clearanceMm - 1e-4);
        }
        CHECK(gapAt(1.7, 0) < 0);
    }
    const auto row = rowFromCoupon(read, {FitProcess::Thread, 4, 2, {}, {}});
    REQUIRE(row.ok());
    CHECK(row->slidingMm == 0.4);
    CHECK_FALSE(rowFromCoupon(sheet(), {FitProcess::Thread, 4, 2, {}, {}}).ok()); // no thread on that one
}

TEST_CASE("fit coupon: the gauges go into what the sheet says, and not into less")
{
    const auto coupon = makeCoupon(few(), day);
    REQUIRE(coupon.ok());
    // Areas of the sections along the gauge, from its volume over its length: a square of 8 mm less four broken corners
    // of 0.6 mm (0.18 mm2 each); a D of radius 4 mm with its flat at 2 mm loses a segment of r2 (pi/3 - sqrt(3)/4).
    const auto extents = [&](std::size_t part) { return mesh::bounds(coupon->parts[part].mesh).extents(); };
    REQUIRE(coupon->parts.size() == 4);
    CHECK(extents(1).x == Approx(24));
    CHECK(extents(1).y == Approx(8).margin(0.0401)); // a chord error on each side
    CHECK(extents(2).x == Approx(24));
    CHECK(extents(2).y == Approx(8));
    CHECK(extents(2).z == Approx(8));
    CHECK(extents(3).z == Approx(6).margin(0.03)); // lies on its flat
    const double d = 16 * (M_PI - (M_PI / 3 - std::sqrt(3.0) / 4));
    const double ends = 2 * 0.8; // drawn in
    CHECK(mesh::volume(coupon->parts[2].mesh) > (64 - 0.72) * (24 - ends));
    CHECK(mesh::volume(coupon->parts[2].mesh) < (64 - 0.72) * 24);
    CHECK(mesh::volume(coupon->parts[3].mesh) > 0.99 * d * (24 - ends));
    CHECK(mesh::volume(coupon->parts[3].mesh) < d * 24);
}

TEST_CASE("fit coupon: the plate goes on the bed, in lines if it must, or is refused")
{
    CouponOptions o;
    o.thread.reset();
    const auto wide = makeCoupon(o, day);
    REQUIRE(wide.ok());
    CHECK(sizeOf(*wide, 0).x > 100);
    o.bed = {"small", Bed::Shape::Rectangular, 120, 120, 120, 1};
    const auto folded = makeCoupon(o, day);
    REQUIRE(folded.ok());
    CHECK(sizeOf(*folded, 0).x <= 110);
    CHECK(sizeOf(*folded, 0).y <= 110);
    CHECK(sizeOf(*folded, 0).y > sizeOf(*wide, 0).y);
    o.bed = {"round", Bed::Shape::Round, 180, 180, 300, 1};
    const auto round = makeCoupon(o, day);
    REQUIRE(round.ok());
    CHECK(std::hypot(sizeOf(*round, 0).x, sizeOf(*round, 0).y) <= 170);
    o.bed = {"tiny", Bed::Shape::Rectangular, 60, 60, 60, 1};
    const auto none = makeCoupon(o, day);
    REQUIRE_FALSE(none.ok());
    CHECK(none.problem().reason == Reason::DoesNotFit);
    CHECK(none.problem().what.find("60x60x60") != std::string::npos);
    o.bed = {"low", Bed::Shape::Rectangular, 300, 300, 10, 1};
    CHECK_FALSE(makeCoupon(o, day).ok());
    // Every pocket lies on the plate, and no two in one place.
    std::set<std::pair<int, int>> places;
    for (const CouponPocket& p : folded->sheet.pockets) {
        CHECK(std::abs(p.mouth.x) < sizeOf(*folded, 0).x / 2 - 4);
        CHECK(std::abs(p.mouth.y) < sizeOf(*folded, 0).y / 2 - 4);
        places.insert({std::lround(p.mouth.x), std::lround(p.mouth.y)});
    }
    CHECK(places.size() == 30);
}

TEST_CASE("fit coupon: steps and sizes that can't be")
{
    const auto refused = [](auto change) {
        CouponOptions o = few();
        change(o);
        const auto coupon = makeCoupon(o, day);
        REQUIRE_FALSE(coupon.ok());
        CHECK(coupon.problem().reason == Reason::BadArgument);
        CHECK_FALSE(coupon.problem().remedy.empty());
        return true;
    };
    CHECK(refused([](CouponOptions& o) { o.stepMm = 0; }));
    CHECK(refused([](CouponOptions& o) { o.stepMm = std::nan(""); }));
    CHECK(refused([](CouponOptions& o) { o.fromMm = -0.1; }));
    CHECK(refused([](CouponOptions& o) { o.toMm = 0.1; }));
    CHECK(refused([](CouponOptions& o) { o.toMm = 0.45; })); // no whole number of steps
    CHECK(refused([](CouponOptions& o) { o.toMm = 2.1; }));
    CHECK(refused([](CouponOptions& o) { o.stepMm = 0.01, o.toMm = 0.6; })); // 51 steps
    CHECK(refused([](CouponOptions& o) { o.dowelMm = 3; }));
    CHECK(refused([](CouponOptions& o) { o.keyMm = 100; }));
    CHECK(refused([](CouponOptions& o) { o.marginMm = -1; }));
    CHECK(refused([](CouponOptions& o) { o.bed.widthMm = 0; }));
    CouponOptions large = few();
    large.dowelMm = 40;
    large.keyMm = 12;
    large.fromMm = 0;
    const auto made = makeCoupon(large, day); // a tight fit of nothing at all, and unlike gauges
    INFO((made.ok() ? "" : made.problem().sentence()));
    REQUIRE(made.ok());
    CHECK(made->sheet.steps == 5);
    CHECK(made->sheet.clearanceMm(1) == 0);
}

TEST_CASE("fit coupon: written as a whole, over an earlier one only when asked, and over nothing else")
{
    const ScratchFolder scratch;
    const fs::path folder = scratch / "coupon";
    const auto coupon = makeCoupon(few(), day);
    REQUIRE(coupon.ok());
    REQUIRE(writeCoupon(*coupon, folder, false).ok());
    CHECK(contentOf(folder / "coupon.txt").find("     4  0.400") != std::string::npos);
    putContent(folder / "notes.txt", "mine");
    const auto again = writeCoupon(*coupon, folder, false);
    REQUIRE_FALSE(again.ok());
    CHECK(again.problem().reason == Reason::FileExists);
    CHECK(again.problem().remedy.find("--force") != std::string::npos);
    CHECK(writeCoupon(*makeCoupon(CouponOptions{}, day), folder, true).ok());
    CHECK(readCouponSheet(folder)->steps == 10);
    CHECK(fs::exists(folder / "threaded-stud.stl"));
    CHECK(writeCoupon(*coupon, folder, true).ok());
    CHECK_FALSE(fs::exists(folder / "threaded-stud.stl")); // the earlier coupon's, not this one's
    CHECK(contentOf(folder / "notes.txt") == "mine");
    fs::create_directory(scratch / "other");
    putContent(scratch.path() / "other" / "coupon.json", "{\"kind\": \"ration\"}");
    CHECK(writeCoupon(*coupon, scratch / "other", true).problem().reason == Reason::FileExists);
    CHECK(contentOf(scratch.path() / "other" / "coupon.json") == "{\"kind\": \"ration\"}");
    putContent(scratch / "file", "x");
    CHECK(writeCoupon(*coupon, scratch / "file", true).problem().reason == Reason::FileExists);
    CHECK(writeCoupon(*coupon, scratch.path() / "file" / "in", false).problem().reason == Reason::FileUnwritable);
    fs::create_directory(scratch / "empty");
    CHECK(writeCoupon(*coupon, scratch.path() / "empty" / "", false).ok());
    std::size_t entries = 0; // nothing half-done is left behind
    for ([[maybe_unused]] const auto& entry : fs::directory_iterator(scratch.path()))
        ++entries;
    CHECK(entries == 4);
}

TEST_CASE("fit coupon: a sheet that was damaged is refused with its place")
{
    const ScratchFolder scratch;
    const fs::path folder = scratch / "coupon";
    REQUIRE(writeCoupon(*makeCoupon(few(), day), folder, false).ok());
    const fs::path file = folder / "coupon.json";
    const std::string good = contentOf(file);
    const auto problem = [&](const std::string& from, const std::string& to) {
        std::string text = good;
        REQUIRE(text.find(from) != std::string::npos);
        text.replace(text.find(from), from.size(), to);
        putContent(file, text);
        const auto read = readCouponSheet(folder);
        REQUIRE_FALSE(read.ok());
        CHECK(read.problem().file == file.string());
        return read.problem();
    };
    CHECK(problem("\"steps\": 4", "\"steps\": 0").place == "/steps");
    CHECK(problem("\"steps\": 4", "\"steps\": 3").place == "/pockets/9/number");
    CHECK(problem("\"step_mm\": 0.1", "\"step_mm\": 0.2").what.find("not that of its number") != std::string::npos);
    CHECK(problem("\"pair\": \"round\"", "\"pair\": \"oval\"").place == "/pockets/0/pair");
    CHECK(problem("quoin fit coupon", "quoin fits").place == "/kind");
    CHECK(problem("\"version\": 1", "\"version\": 7").reason == Reason::VersionTooNew);
    CHECK(problem("}", "").reason == Reason::FileMalformed);
    putContent(file, good);
    CHECK(readCouponSheet(file)->machine == "big one"); // the sheet itself will do
    CHECK(readCouponSheet(scratch / "nowhere").problem().reason == Reason::FileMissing);
}

TEST_CASE("fit coupon: answers make a row")
{
    const CouponSheet s = sheet(); // 0.1, 0.2, 0.3, 0.4
    const auto row = rowFromCoupon(s, {FitProcess::Key, 3, 2, {}, {}});
    REQUIRE(row.ok());
    CHECK(row->material == "PLA");
    CHECK(row->machine == "big one");
    CHECK(row->process == FitProcess::Key);
    CHECK(row->slidingMm == 0.3);
    CHECK(row->snugMm == 0.2);
    CHECK(row->pressMm == 0.1);               // a step under snug
    CHECK(row->freeMm == Approx(0.3 + 0.15)); // the shipped distance, more than a step
    CHECK(row->source == "coupon of 2026-11-25: step 3 slid, step 2 was snug");
    CHECK(row->date == day);
    const auto all = rowFromCoupon(s, {FitProcess::Rod, 3, 2, 1, 4});
    REQUIRE(all.ok());
    CHECK(all->pressMm == 0.1);
    CHECK(all->freeMm == 0.4);
    CHECK(all->source.find("step 1 was a press fit, step 4 was free") != std::string::npos);
    CHECK(rowFromCoupon(s, {FitProcess::Dowel, 2, 1, {}, {}})->pressMm == 0); // a step under the first
    CHECK(FitTable{}.withRow(*row)->lookup("pla", "big one", FitProcess::Key).row == *row);
}

TEST_CASE("fit coupon: answers that can't be")
{
    const CouponSheet s = sheet();
    const auto refusal = [&](const CouponAnswers& a) {
        const auto row = rowFromCoupon(s, a);
        REQUIRE_FALSE(row.ok());
        CHECK(row.problem().reason == Reason::BadArgument);
        return row.problem().what;
    };
    CHECK(refusal({FitProcess::Dowel, 2, 3, {}, {}}) ==
          "step 3 can't be snug when step 2 is sliding: a higher number is wider");
    CHECK(refusal({FitProcess::Dowel, 2, 2, {}, {}}).find("snug") != std::string::npos);
    CHECK(refusal({FitProcess::Dowel, 5, 2, {}, {}}) == "step 5 (sliding) is not on the coupon");
    CHECK(refusal({FitProcess::Dowel, 3, 0, {}, {}}) == "step 0 (snug) is not on the coupon");
    CHECK(refusal({FitProcess::Dowel, 3, 2, 2, {}}).find("press") != std::string::npos);
    CHECK(refusal({FitProcess::Dowel, 3, 2, {}, 3}).find("free") != std::string::npos);
    CouponSheet none = s;
    none.pockets.clear();
    CHECK_FALSE(rowFromCoupon(none, {FitProcess::Dowel, 3, 2, {}, {}}).ok());
}
