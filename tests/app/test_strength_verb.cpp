// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/design_file.h"
#include "tests/app/command.h"
#include "tests/support/designs.h"
#include "tests/support/scratch.h"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

using namespace quoin;
using namespace quoin::test;
using nlohmann::json;

namespace {

std::string savedBox(const ScratchFolder& folder)
{
    core::MeshKeeper keeper;
    const auto file = folder / "box.quoin.json";
    REQUIRE(core::saveDesign(smallDesign(), file, keeper).ok());
    return file.string();
}

} // namespace

TEST_CASE("command line: strength of a saved design, in words and for programs")
{
    const ScratchFolder scratch;
    const std::string design = savedBox(scratch);
    const Ran words = quoinRan({"strength", design, "--held", "1", "--all"});
    INFO(words.output << words.error);
    REQUIRE(words.status == 0);
    CHECK(words.output.find("Seam A") != std::string::npos);
    CHECK(words.output.find("dowel sheared off") != std::string::npos);
    CHECK(words.output.find("someone licensed") != std::string::npos);

    const Ran programs = quoinRan({"strength", design, "--held", "1", "--factor", "3", "--glue", "0", "--force",
                                   "0,0,0:0,0,-7", "--gravity", "-1,0,0", "--json"});
    INFO(programs.output << programs.error);
    REQUIRE(programs.status == 0);
    const json j = json::parse(programs.output);
    REQUIRE(j["parts"].size() == 1);
    CHECK(j["parts"][0]["load"]["dynamic_factor"] == 3.0);
    CHECK(j["parts"][0]["load"]["gravity"][0] == -1.0);
    CHECK(j["parts"][0]["load"]["extra_forces"][0]["force_n"][2] == -7.0);
    CHECK(j["parts"][0]["faces"].size() == 1);
    CHECK(j["parts"][0]["caution"].get<std::string>().find("estimates") != std::string::npos);
}

TEST_CASE("command line: strength says what is wrong with its words")
{
    const ScratchFolder scratch;
    const std::string design = savedBox(scratch);
    const std::vector<std::vector<std::string>> bad{
        {"--held", "9"},        {"--force", "1,2,3"}, {"--force", "1,2:0,0,1"}, {"--gravity", "0,0"},
        {"--gravity", "0,0,0"}, {"--fill", "2"},      {"--bolts", "7.7"},       {"--factor", "nan"}};
    for (const auto& words : bad) {
        std::vector<std::string> all{"strength", design};
        all.insert(all.end(), words.begin(), words.end());
        const Ran r = quoinRan(all);
        INFO(words[0] << " " << words[1] << ": " << r.output << r.error);
        CHECK(r.status == 2);
        CHECK_FALSE(r.error.empty());
    }
    CHECK(quoinRan({"strength", (scratch / "none.quoin.json").string()}).status == 2);
}
