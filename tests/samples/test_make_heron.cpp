// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/mass.h"
#include "mesh/model_file.h"
#include "sample_models/heron.h"
#include "tests/support/scratch.h"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <cstdlib>
#include <fstream>
#include <sys/wait.h>

using namespace quoin;

namespace {

int run(const std::string& arguments)
{
    const std::string command = std::string("'") + QUOIN_MAKE_HERON + "' " + arguments + " 2>/dev/null";
    const int status = std::system(command.c_str());
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

} // namespace

TEST_CASE("making the heron: every part can be read back, and the assembly names them all")
{
    const test::ScratchFolder scratch;
    const auto folder = scratch / "heron";
    REQUIRE(run("'" + folder.string() + "'") == 0);
    nlohmann::json assembly;
    std::ifstream(folder / "assembly.json") >> assembly;
    const std::vector<samples::HeronPart> parts = samples::heronParts();
    REQUIRE(assembly["parts"].size() == parts.size());
    CHECK(assembly["unit"] == "mm");
    for (std::size_t i = 0; i < parts.size(); ++i) {
        const auto& entry = assembly["parts"][i];
        CHECK(entry["name"] == parts[i].name);
        CHECK(entry["quantity"] == parts[i].quantity);
        CHECK(entry["poses"].size() == parts[i].poses.size());
        CHECK(entry["poses"][0].get<std::array<double, 16>>() == parts[i].poses[0].m);
        const auto model = mesh::readModel(folder / entry["file"].get<std::string>());
        REQUIRE(model.ok());
        CHECK(model->mesh.triangles.size() == parts[i].mesh.triangles.size());
        CHECK(mesh::volume(model->mesh) == Approx(mesh::volume(parts[i].mesh)).epsilon(1e-12));
    }
    // A second time it would overwrite what is there.
    const auto before = std::filesystem::last_write_time(folder / "body.stl");
    CHECK(run("'" + folder.string() + "'") == 2);
    CHECK(std::filesystem::last_write_time(folder / "body.stl") == before);
    std::filesystem::remove(folder / "assembly.json");
    CHECK(run("'" + folder.string() + "'") == 2);
    CHECK(std::filesystem::last_write_time(folder / "body.stl") == before);
    CHECK_FALSE(std::filesystem::exists(folder / "assembly.json"));
}

TEST_CASE("making the heron: wrong use and a folder that can't be made")
{
    const test::ScratchFolder scratch;
    CHECK(run("") == 2);
    std::ofstream(scratch / "file") << "in the way";
    CHECK(run("'" + (scratch / "file").string() + "'") == 2);
}
