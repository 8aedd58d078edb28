// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/force.h"

#include <catch2/catch.hpp>

using quoin::Reason;
using quoin::core::newtonsFrom;

TEST_CASE("force: a number and a unit as people type them")
{
    // 1 kgf = 9.80665 N (ISO 80000-3); 1 lbf = 4.4482216152605 N (NIST SP 811, appendix B).
    const auto [text, newtons] = GENERATE(table<std::string, double>({
        {"50", 50},
        {"50 N", 50},
        {" 50N ", 50},
        {"+5", 5},
        {"-3 N", -3},
        {"0.5 kN", 500},
        {"2kgf", 19.6133},
        {"10 lbf", 44.482216152605},
        {"1e2", 100},
    }));
    const auto read = newtonsFrom(text);
    CAPTURE(text);
    REQUIRE(read.ok());
    CHECK(*read == Approx(newtons).epsilon(1e-12));
}

TEST_CASE("force: anything else is refused in words")
{
    const std::string text = GENERATE("", "N", "ten", "5 kg", "5 mm", "nan", "inf N", "1e308 kN", "1,5 N", "+-5");
    const auto read = newtonsFrom(text);
    CAPTURE(text);
    REQUIRE_FALSE(read.ok());
    CHECK(read.problem().reason == Reason::BadArgument);
    CHECK(read.problem().sentence().find("kgf") != std::string::npos);
}
