// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/thread_profile.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace quoin;
using namespace quoin::core;
using mesh::Vec2;

namespace {

std::vector<ThreadDimensions> both()
{
    return {dimensionsOf({Thread::Profile::Printable, 40, 6, 1, false}).value(),
            dimensionsOf({Thread::Profile::Trapezoidal, 60, 9, 1, false}).value()};
}

constexpr int samples = 2000;

} // namespace

TEST_CASE("thread profile: crest, pitch line and root are where the dimensions say")
{
    for (const ThreadDimensions& t : both()) {
        for (const bool internal : {false, true}) {
            const ThreadProfile p = threadProfile(t, internal, 0, 0.005);
            CHECK(p.radiusAt(0) == Approx((internal ? t.internalMajorMm : t.majorMm) / 2));
            CHECK(p.radiusAt(t.pitchMm / 2) == Approx((internal ? t.internalMinorMm : t.minorMm) / 2));
            CHECK(p.radiusAt(t.pitchMm / 4) == Approx(t.pitchDiameterMm / 2));
            CHECK(p.radiusAt(-t.pitchMm / 4) == Approx(t.pitchDiameterMm / 2));
            CHECK(p.radiusAt(3.25 * t.pitchMm) == Approx(t.pitchDiameterMm / 2));
            CHECK(p.slopeAt(t.pitchMm / 4) == Approx(-1 / std::tan(t.flankHalfAngle)));
            CHECK(p.slopeAt(0) == 0);
            for (std::size_t i = 1; i < p.points.size(); ++i)
                CHECK(p.points[i].x > p.points[i - 1].x);
        }
    }
}

TEST_CASE("thread profile: the fillet's polygon gives way to the material's side by no more than its bound")
{
    constexpr double errorMm = 0.004;
    for (const ThreadDimensions& t : both())
        for (const bool internal : {false, true})
            for (const double offset : {-0.05, 0.0, 0.3}) {
                const ThreadProfile p = threadProfile(t, internal, offset, errorMm);
                double most = 0;
                for (int i = 0; i < samples; ++i) {
                    const double s = t.pitchMm * i / samples;
                    const double exact = exactProfileRadius(t, internal, offset, s);
                    const double off = internal ? p.radiusAt(s) - exact : exact - p.radiusAt(s);
                    CHECK(off >= -1e-9);
                    most = std::max(most, off);
                }
                // Radial; on the steep end of the fillet that is more than the distance.
                CHECK(most <= errorMm / std::sin(t.flankHalfAngle) + 1e-9);
                CHECK(most > 0.1 * errorMm);
            }
}

TEST_CASE("thread profile: the bore's profile keeps its offset from the stud's everywhere")
{
    constexpr double offsetMm = 0.3;
    for (const ThreadDimensions& t : both()) {
        double least = 1e9;
        for (int i = 0; i < samples / 4; ++i) {
            const double s = t.pitchMm * i / (samples / 4);
            const Vec2 a{s, exactProfileRadius(t, true, offsetMm, s)};
            for (int k = 0; k < samples; ++k) {
                const double u = t.pitchMm * (2. * k / samples - 0.5);
                least = std::min(least, length(a - Vec2{u, exactProfileRadius(t, false, 0, u)}));
            }
        }
        CHECK(least >= offsetMm - 1e-6);
        CHECK(least < offsetMm + 0.001);
    }
}
