// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/proof.h"

#include <catch2/catch.hpp>
#include <limits>

using namespace quoin;
using Catch::Contains;
using core::Claim;
using core::Proof;

namespace {

Claim claim(const std::string& id, const std::string& subject, double measured, const std::string& relation,
            double limit, const std::string& unit, bool holds)
{
    return {id, subject, "text of " + id, measured, relation, limit, unit, holds};
}

Proof goodProof()
{
    Proof proof;
    proof.claims = {claim("piece.closed", "pieces/01-a.stl", 0, "=", 0, "edges", true),
                    claim("piece.closed", "pieces/02-a.stl", 0, "=", 0, "edges", true),
                    claim("piece.wall", "pieces/01-a.stl", 3.25, ">=", 2.4, "mm", true)};
    proof.assembly = {"1. Lay piece 1 down.", "2. Push piece 2 on."};
    proof.cautions = {"Heavy things above people: have it checked."};
    return proof;
}

const nlohmann::json pieceList = {{"unit", "mm"},
                                  {"pieces",
                                   {{{"number", 1},
                                     {"kind", "piece"},
                                     {"name", "a 1"},
                                     {"file", "pieces/01-a.stl"},
                                     {"count", 1},
                                     {"volume_mm3", 1234567.0},
                                     {"extents_mm", {10.0, 20.5, 30.25}},
                                     {"bed", "300x300x400"},
                                     {"stands_flat", true},
                                     {"neighbours", {2, 3}}}}}};

/// Every tag that is opened is closed again in the right order; those that HTML lets stand alone are left out.
bool balanced(const std::string& html)
{
    std::vector<std::string> open;
    for (std::size_t at = html.find('<'); at != std::string::npos; at = html.find('<', at + 1)) {
        const bool closing = html[at + 1] == '/';
        std::size_t end = at + (closing ? 2 : 1);
        while (std::isalnum(static_cast<unsigned char>(html[end])) != 0)
            ++end;
        const std::string tag = html.substr(at + (closing ? 2 : 1), end - at - (closing ? 2 : 1));
        if (tag.empty() || tag == "meta" || tag == "th")
            continue;
        if (!closing)
            open.push_back(tag);
        else if (open.empty() || open.back() != tag)
            return false;
        else
            open.pop_back();
    }
    return open.empty();
}

} // namespace

TEST_CASE("proof page: a proof that holds says so, with its numbers")
{
    const std::string html = core::toHtml(goodProof(), pieceList, "Heron");
    CHECK_THAT(html, Contains("<strong>Proved</strong>All 3 claims hold"));
    CHECK_THAT(html, !Contains("Not proved"));
    CHECK_THAT(html, Contains("<title>Heron</title>"));
    CHECK_THAT(html, Contains("3.25"));
    CHECK_THAT(html, Contains("≥ 2.4"));
    CHECK_THAT(html, Contains("1234.6")); // cm3
    CHECK_THAT(html, Contains("10.0 × 20.5 × 30.2"));
    CHECK_THAT(html, Contains("2, 3"));
    CHECK_THAT(html, Contains("<a href=\"pieces/01-a.stl\">a 1</a>"));
    CHECK_THAT(html, Contains("<li>Push piece 2 on.</li>"));
    CHECK_THAT(html, Contains("have it checked"));
    CHECK_THAT(html, Contains("assembled.png"));
    CHECK(balanced(html));
    // Self-contained: nothing is fetched from anywhere.
    CHECK_THAT(html, !Contains("http"));
    CHECK_THAT(html, !Contains("<script"));
    CHECK_THAT(html, Contains("prefers-color-scheme: dark"));
}

TEST_CASE("proof page: a failed claim turns the verdict and stands at the top")
{
    Proof proof = goodProof();
    proof.claims.push_back(claim("piece.fits", "pieces/02-a.stl", -1.5, ">=", 0, "mm", false));
    const std::string html = core::toHtml(proof, pieceList, "Heron");
    CHECK_THAT(html, Contains("Not proved</strong>1 of 4 claims fails"));
    CHECK_THAT(html, !Contains("<strong>Proved"));
    CHECK(html.find("-1.5 mm") < html.find("<h2>"));
    CHECK_THAT(html, Contains("<details open>"));
    CHECK_THAT(html, Contains("✗ 1 of 1"));
    CHECK(balanced(html));
}

TEST_CASE("proof page: the number shown for a group is the one nearest to its limit")
{
    Proof proof;
    proof.claims = {claim("a", "x", 5, ">=", 2, "mm", true), claim("a", "y", 2.125, ">=", 2, "mm", true),
                    claim("b", "x", 0.75, "<=", 1, "mm", true), claim("b", "y", 0.125, "<=", 1, "mm", true)};
    const std::string html = core::toHtml(proof, {}, "t");
    CHECK_THAT(html, Contains("tightest 2.125 mm"));
    CHECK_THAT(html, Contains("tightest 0.75 mm"));
}

TEST_CASE("proof page: checks of one kind stand together under one line")
{
    Proof proof;
    proof.claims = {{"piece.side", "a", "stays below cut 1", -2, "<=", 0.001, "mm", true},
                    {"file.volume", "a", "encloses a volume", 5, ">", 0, "mm3", true},
                    {"piece.side", "b", "stays above cut 1", -3, "<=", 0.001, "mm", true},
                    {"odd.one", "a", "this", 1, "=", 1, "", true},
                    {"odd.one", "b", "that", 1, "=", 1, "", true}};
    const std::string html = core::toHtml(proof, {}, "t");
    CHECK_THAT(html, Contains("stays on its own side of every cut"));
    CHECK_THAT(html, Contains("<td>stays above cut 1</td>")); // its own words in its own row
    CHECK_THAT(html, Contains("odd one"));
    CHECK(html.find("<h3>The part rebuilt</h3>") < html.find("<h3>The files</h3>"));
    CHECK(html.find("<h3>Other</h3>") != std::string::npos);
    CHECK_THAT(html, Contains("tightest -2 mm"));
    CHECK(balanced(html));
}

TEST_CASE("proof page: no claims prove nothing")
{
    const std::string html = core::toHtml({}, {}, "Empty");
    CHECK_THAT(html, Contains("Nothing was checked"));
    CHECK_THAT(html, !Contains("<strong>Proved"));
    CHECK(balanced(html));
}

TEST_CASE("proof page: nothing from a file gets into the page as markup")
{
    Proof proof;
    const std::string evil = "<script>alert('x')</script>\" onload=\"y & z";
    proof.claims = {{evil, evil, evil, 1, evil, 2, evil, false}, {evil, evil, evil + "2", 1, evil, 2, evil, true}};
    proof.assembly = {evil};
    proof.cautions = {evil};
    const nlohmann::json pieces = {
        {"pieces", {{{"name", evil}, {"file", "javascript:alert(1)"}, {"bed", evil}, {"kind", evil}}}}};
    const std::string html = core::toHtml(proof, pieces, evil);
    CHECK_THAT(html, !Contains("<script"));
    CHECK_THAT(html, !Contains("\" onload"));
    CHECK_THAT(html, !Contains("javascript:"));
    CHECK_THAT(html, Contains("&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt;&quot; onload=&quot;y &amp; z"));
    CHECK(balanced(html));
}

TEST_CASE("proof page: an odd parts list leaves gaps, never a crash")
{
    const double nan = std::numeric_limits<double>::quiet_NaN();
    Proof proof;
    proof.claims = {claim("a", "x", nan, "<=", std::numeric_limits<double>::infinity(), "", false)};
    for (const char* text :
         {"null", "[]", "3", "{}", R"({"pieces": 5})", R"({"pieces": [null, 1, "x", [], {}]})",
          R"({"pieces": [{"number": "one", "extents_mm": ["a", 2], "neighbours": [1.5, "b", null]}]})"}) {
        const std::string html = core::toHtml(proof, nlohmann::json::parse(text), "t");
        CHECK(balanced(html));
        CHECK_THAT(html, Contains("not a number"));
        CHECK_THAT(html, Contains("infinite"));
    }
}
