// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/length.h"

#include <catch2/catch.hpp>

using quoin::Reason;
using quoin::core::lengthMmFrom;

TEST_CASE("length: a number and a unit as people type them")
{
    // 1 inch = 25.4 mm, 1 foot = 304.8 mm exactly (international yard and pound agreement, 1959).
    const auto [text, lengthMm] = GENERATE(table<std::string, double>({
        {"1800mm", 1800},
        {"1.8 m", 1800},
        {"30cm", 300},
        {"12 inch", 304.8},
        {"12in", 304.8},
        {"12\"", 304.8},
        {"6'", 1828.8},
        {"6 ft", 1828.8},
        {"5", 5},
        {"+5", 5},
        {" 5 mm ", 5},
        {"1e3", 1000},
        {".5m", 500},
        {"250 micron", 0.25},
        {"250 \xC2\xB5m", 0.25},
        {"2 METRES", 2000},
        {"-3 mm", -3},
        {"0", 0},
    }));
    INFO(text);
    const auto length = lengthMmFrom(text);
    REQUIRE(length.ok());
    CHECK(*length == Approx(lengthMm).epsilon(1e-15));
}

TEST_CASE("length: anything else is refused with a remedy")
{
    const std::string text = GENERATE("", " ", "mm", "five", "nan", "inf", "-inf mm", "nan mm", "1e999", "1e308 m",
                                      "1,8 m", "5 parsec", "5 mm 3", "1.2.3", "--5", "+-5", "5 km/h", "0x10");
    INFO(text);
    const auto length = lengthMmFrom(text);
    REQUIRE_FALSE(length.ok());
    CHECK(length.problem().reason == Reason::BadArgument);
    CHECK_FALSE(length.problem().remedy.empty());
}

TEST_CASE("length: a decimal comma is named as the fault")
{
    CHECK(lengthMmFrom("1,8 m").problem().what.find("comma") != std::string::npos);
}
