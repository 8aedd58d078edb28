// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_layout.h"
#include "core/jointed_pieces.h"
#include "mesh/primitives.h"
#include "tests/support/scratch.h"
#include "ui/picture.h"

#include "tests/support/plans.h"
#include <algorithm>

#include <catch2/catch.hpp>
#include <cstdlib>
#include <fstream>
#include <vtkImageData.h>
#include <vtkNew.h>
#include <vtkPNGReader.h>

using namespace quoin;
using mesh::Vec3;

namespace {

/// A picture read back.
class Picture {
public:
    explicit Picture(const std::filesystem::path& file)
    {
        m_reader->SetFileName(file.c_str());
        m_reader->Update();
    }
    int width() const { return m_reader->GetOutput()->GetDimensions()[0]; }
    int height() const { return m_reader->GetOutput()->GetDimensions()[1]; }
    /// Pixels whose colour is near the wanted hue: the strongest channels lead the others by a margin.
    template <class Wanted>
    int count(Wanted wanted) const
    {
        int n = 0;
        const auto* p = static_cast<const unsigned char*>(m_reader->GetOutput()->GetScalarPointer());
        for (int i = 0; i < width() * height(); ++i, p += 3)
            n += wanted(p[0], p[1], p[2]) ? 1 : 0;
        return n;
    }

private:
    vtkNew<vtkPNGReader> m_reader;
};

bool reddish(int r, int g, int b)
{
    return r > g + 60 && r > b + 60;
}
bool bluish(int r, int g, int b)
{
    return b > r + 60 && b > g + 20;
}
bool inky(int r, int g, int b)
{
    return r < 70 && g < 70 && b < 75;
}

core::Project cutBar(const mesh::Mesh& bar)
{
    core::Project project;
    project.part.name = "bar";
    project.part.mesh = std::make_shared<const mesh::Mesh>(bar);
    project.beds = {core::Bed{"300x300x400", core::Bed::Shape::Rectangular, 300, 300, 400}};
    project.plan = test::planOf({{{1, 0, 0}, 120.0}, {{1, 0, 0}, 240.0}});
    const auto leaves = core::cutByPlan(bar, project.plan);
    REQUIRE(leaves.ok());
    project.pieces = core::piecesOf(*leaves);
    project.seams = core::seamsOf(project.pieces, project.plan);
    const auto layout = core::layOutJoints(project.pieces, project.seams, project.plan, {});
    REQUIRE(layout.ok());
    project.layout = *layout;
    return project;
}

} // namespace

TEST_CASE("scene: drawn without a display, to size, colours where the solids are")
{
    unsetenv("DISPLAY");
    const test::ScratchFolder scratch;
    const mesh::Mesh ball = mesh::icosphere(50, 4), cube = mesh::box({-50, -50, -50}, {50, 50, 50});
    ui::Scene scene;
    scene.items = {{&ball, {}, {0.9, 0.2, 0.2}, {}},
                   {&cube, mesh::Transform::translation({140, 77, 0}), {0.2, 0.3, 0.9}, {}}};
    scene.scaleBar = false;
    const Status done = ui::drawScene(scratch / "two.png", scene);
    INFO((done ? "" : done.problem().sentence()));
    REQUIRE(done.ok());
    const Picture picture(scratch / "two.png");
    REQUIRE(picture.width() == 1600);
    REQUIRE(picture.height() == 1200);
    const int red = picture.count(reddish), blue = picture.count(bluish);
    // A ball shows pi r^2, a cube the sum of its three faces' shadows: 4 r^2 (|nx| + |ny| + |nz|) for the direction n
    // of the view (0.55, -1, 0.42) = 6.48 r^2. They stand equally far from the eye.
    CHECK(red > 100'000);
    CHECK(blue == Approx(6.48 / 3.1416 * red).epsilon(0.05));
    CHECK(picture.count([](int r, int g, int b) { return r > 225 && g > 225 && b > 225; }) > 500'000);
}

TEST_CASE("scene: labels, lines and the rod are drawn")
{
    const test::ScratchFolder scratch;
    const mesh::Mesh ball = mesh::icosphere(50, 4);
    ui::Scene scene;
    scene.items = {{&ball, {}, {0.95, 0.9, 0.6}, {}}};
    scene.scaleBar = false;
    scene.widthPx = 800;
    scene.heightPx = 600;
    REQUIRE(ui::drawScene(scratch / "plain.png", scene).ok());
    CHECK(Picture(scratch / "plain.png").count(inky) == 0);
    CHECK(Picture(scratch / "plain.png").width() == 800);
    scene.items[0].label = "17";
    REQUIRE(ui::drawScene(scratch / "label.png", scene).ok());
    const int labelInk = Picture(scratch / "label.png").count(inky);
    CHECK(labelInk > 100);
    CHECK(labelInk < 1000);
    scene.items[0].label.clear();
    scene.lines = {{{-80, -60, 0}, {80, -60, 0}, {0, 0, 0}, 3}};
    REQUIRE(ui::drawScene(scratch / "line.png", scene).ok());
    CHECK(Picture(scratch / "line.png").count(inky) > 600);
    scene.lines.clear();
    scene.scaleBar = true;
    REQUIRE(ui::drawScene(scratch / "rod.png", scene).ok());
    CHECK(Picture(scratch / "rod.png").count(reddish) > 50);
}

TEST_CASE("pictures: an export gets both, and the pieces stand apart in the second")
{
    const test::ScratchFolder scratch;
    const mesh::Mesh bar = mesh::box({0, 0, 0}, {360, 60, 60});
    const core::Project project = cutBar(bar);
    const auto jointed = core::jointedPieces(project.pieces, project.seams, project.plan, project.layout);
    REQUIRE(jointed.ok());
    REQUIRE(jointed->size() == 3);
    const Status done = ui::drawPictures(scratch.path(), project, *jointed);
    INFO((done ? "" : done.problem().sentence()));
    REQUIRE(done.ok());
    CHECK(Picture(scratch / "assembled.png").width() == 1600);
    CHECK(Picture(scratch / "exploded.png").height() == 1200);
    CHECK(Picture(scratch / "assembled.png").count(inky) > 500);
    // Nothing else is left in the folder.
    CHECK(std::distance(std::filesystem::directory_iterator(scratch.path()), {}) == 2);

    const std::vector<mesh::Mesh> noDowels(project.layout.joints.size());
    const ui::Scene scene = ui::explodedScene(project, *jointed, {});
    REQUIRE(scene.items.size() == 3);
    CHECK(scene.items[2].placement.point({0, 0, 0}).x - scene.items[0].placement.point({0, 0, 0}).x > 40);
    CHECK(scene.items[1].label == "2");
}

TEST_CASE("pictures: large things get a person beside them, small ones the bed")
{
    const mesh::Mesh bar = mesh::box({0, 0, 0}, {360, 60, 60});
    core::Project project = cutBar(bar);
    std::vector<mesh::Mesh> jointed;
    for (const auto& piece : project.pieces)
        jointed.push_back(piece.mesh);
    const ui::Scene small = ui::assembledScene(project, jointed);
    CHECK_FALSE(small.person);
    CHECK(small.lines.size() == 12);
    REQUIRE(small.words.size() == 1);
    CHECK(small.words[0].text == "bed 300 x 300 x 400 mm");
    for (auto& mesh : jointed)
        mesh = transformed(mesh, mesh::Transform::scaling(4));
    const ui::Scene large = ui::assembledScene(project, jointed);
    CHECK(large.person);
    CHECK(large.lines.empty());
}

TEST_CASE("scene: nothing to draw is refused, and so is a folder that isn't there")
{
    const test::ScratchFolder scratch;
    const Status empty = ui::drawScene(scratch / "empty.png", {});
    REQUIRE_FALSE(empty.ok());
    CHECK(empty.problem().reason == Reason::BadArgument);
    CHECK_FALSE(std::filesystem::exists(scratch / "empty.png"));
    const mesh::Mesh cube = mesh::box({0, 0, 0}, {1, 1, 1});
    ui::Scene scene;
    scene.items = {{&cube, {}, {}, {}}};
    scene.widthPx = 160;
    scene.heightPx = 120;
    const Status lost = ui::drawScene(scratch / "nowhere/cube.png", scene);
    REQUIRE_FALSE(lost.ok());
    CHECK(lost.problem().reason == Reason::FileUnwritable);
    CHECK_THAT(lost.problem().sentence(), Catch::Contains("cube.png"));
}

TEST_CASE("scene: a million triangles in a few seconds", "[slow]")
{
    const test::ScratchFolder scratch;
    const mesh::Mesh ball = mesh::icosphere(100, 8);
    REQUIRE(ball.triangles.size() > 1'000'000);
    ui::Scene scene;
    scene.items = {{&ball, {}, {0.2, 0.7, 0.5}, "1"}};
    REQUIRE(ui::drawScene(scratch / "ball.png", scene).ok());
}
