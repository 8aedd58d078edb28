// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/mass.h"
#include "mesh/model_file.h"
#include "tests/support/model_text.h"

#include <catch2/catch.hpp>

using namespace quoin;
using namespace quoin::mesh;
using test::hasNote;
using test::readBytes;

namespace {

const std::string cubePoints = "v 0 0 0\nv 10 0 0\nv 10 10 0\nv 0 10 0\nv 0 0 10\nv 10 0 10\nv 10 10 10\nv 0 10 10\n";

Result<Model> readObjText(const std::string& text)
{
    return readBytes(text, ".obj");
}

} // namespace

TEST_CASE("read OBJ: a cube of quads, in each form of corner")
{
    const std::string faces =
        GENERATE("f 1 4 3 2\nf 5 6 7 8\nf 1 2 6 5\nf 2 3 7 6\nf 3 4 8 7\nf 4 1 5 8\n",
                 "f -8 -5 -6 -7\nf -4 -3 -2 -1\nf -8 -7 -3 -4\nf -7 -6 -2 -3\nf -6 -5 -1 -2\nf -5 -8 -4 -1\n",
                 "vt 0 0\nvn 0 0 1\nf 1/1 4/1 3/1 2/1\nf 5//1 6//1 7//1 8//1\nf 1/1/1 2/1/1 6/1/1 5/1/1\nf 2 3 7 6\nf "
                 "3/ 4/ 8/ 7/\n"
                 "f 4 1 5 8\n",
                 "f 1 4 \\\n3 2\nf 5 6 7 8\\\n\nf 1 2 6 5\nf 2 3 7 6\nf 3 4 8 7\nf 4 1 5 8 # the last\n");
    const auto model = readObjText("# a cube\no cube\n" + cubePoints + "g sides\nusemtl wood\ns off\n" + faces);
    REQUIRE(model.ok());
    CHECK(model->format == Format::Obj);
    CHECK(model->mesh.points.size() == 8);
    CHECK(model->mesh.triangles.size() == 12);
    CHECK(volume(model->mesh) == Approx(1000));
    CHECK(model->names == std::vector<std::string>{"cube", "sides"});
}

TEST_CASE("read OBJ: a face that is not convex keeps its area")
{
    // An L of three unit squares, scaled by 10; a fan from the first corner would cover the notch.
    const auto model = readObjText("v 20 0 0\nv 20 10 0\nv 10 10 0\nv 10 20 0\nv 0 20 0\nv 0 0 0\nf 1 2 3 4 5 6\n");
    REQUIRE(model.ok());
    CHECK(model->mesh.triangles.size() == 4);
    CHECK(area(model->mesh) == Approx(300));
    CHECK(model->notes.empty());
}

TEST_CASE("read OBJ: faces may come before their points")
{
    CHECK(readObjText("f 1 2 3\nv 0 0 0\nv 10 0 0\nv 0 10 0\n").ok());
}

TEST_CASE("read OBJ: colours and weights after the coordinates are passed over")
{
    const auto model = readObjText("v 0 0 0 1\nv 10 0 0 0.5 0.5 0.5\nv 0 10 0\nf 1 2 3\n");
    REQUIRE(model.ok());
    CHECK(model->mesh.triangles.size() == 1);
}

TEST_CASE("read OBJ: what breaks the format is refused with its line")
{
    const auto [text, reason, place] = GENERATE(table<std::string, Reason, std::string>({
        {"v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 4\n", Reason::FileMalformed, "line 4"},
        {"v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 0\n", Reason::FileMalformed, "line 4"},
        {"v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 -4\n", Reason::FileMalformed, "line 4"},
        {"v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2\n", Reason::FileMalformed, "line 4"},
        {"v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 x\n", Reason::FileMalformed, "line 4"},
        {"v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1/x 2 3\n", Reason::FileMalformed, "line 4"},
        {"v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1.5 2 3\n", Reason::FileMalformed, "line 4"},
        {"v 0 0 0\nv 1 0\nv 0 1 0\nf 1 2 3\n", Reason::FileMalformed, "line 2"},
        {"v 0 0 0\nv 1 0 nan\nv 0 1 0\nf 1 2 3\n", Reason::NumberNotFinite, "line 2"},
        {"v 0 0 0\nv 1 0 0\nblah 0 1 0\nf 1 2 3\n", Reason::FileMalformed, "line 3"},
        {"v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 99999999999999999999\n", Reason::FileMalformed, "line 4"},
        {"v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 4000000000\n", Reason::FileMalformed, "line 4"},
    }));
    INFO(text);
    const auto model = readObjText(text);
    REQUIRE_FALSE(model.ok());
    CHECK(model.problem().reason == reason);
    CHECK(model.problem().place == place);
}

TEST_CASE("read OBJ: points without faces are an empty file")
{
    CHECK(readObjText(cubePoints).problem().reason == Reason::FileEmpty);
    CHECK(readObjText(cubePoints + "l 1 2\np 1\n").problem().reason == Reason::FileEmpty);
}

TEST_CASE("read OBJ: curved surfaces are left out and remarked on")
{
    const auto model = readObjText(cubePoints + "f 1 2 3\ncstype bezier\ndeg 3\ncurv 0 1 1 2 3 4\nparm u 0 1\nend\n");
    REQUIRE(model.ok());
    CHECK(hasNote(*model, "curved"));
}
