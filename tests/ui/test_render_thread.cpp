// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/primitives.h"
#include "tests/support/shapes.h"
#include "tests/ui/application.h"
#include "ui/draw_mesh.h"
#include "ui/draw_mesh_data.h"
#include "ui/render_thread.h"

#include <QElapsedTimer>

#include <catch2/catch.hpp>
#include <functional>
#include <vector>

using namespace quoin;
using mesh::Transform;
using mesh::Vec3;

namespace {

constexpr int patienceMs = 20'000;

/// A drawing thread and the pictures that it has sent.
struct Studio {
    ui::RenderThread thread;
    std::vector<ui::Frame> frames;
    QString complaint;

    Studio()
    {
        QObject::connect(&thread, &ui::RenderThread::frameReady,
                         [this](const ui::Frame& frame) { frames.push_back(frame); });
        QObject::connect(&thread, &ui::RenderThread::failed, [this](const QString& why) { complaint = why; });
    }
    bool waitFor(const std::function<bool()>& done)
    {
        QElapsedTimer timer;
        timer.start();
        while (!done() && complaint.isEmpty() && timer.elapsed() < patienceMs)
            test::application().processEvents(QEventLoop::AllEvents, 20);
        INFO(complaint.toStdString());
        return done();
    }
    /// The next fine picture of the camera.
    QImage fine(const ui::OrbitCamera& camera)
    {
        frames.clear();
        thread.setCamera(camera, 1);
        const auto arrived = [&] { return !frames.empty() && frames.back().fine && frames.back().camera == camera; };
        REQUIRE(waitFor(arrived));
        return frames.back().image;
    }
};

ui::OrbitCamera frontCamera()
{
    ui::OrbitCamera camera = ui::OrbitCamera{}.looking(ui::StandardView::Front);
    camera.target = {0, 0, 0};
    camera.distanceMm = 100;
    camera.widthPx = 160;
    camera.heightPx = 120;
    return camera;
}

const ui::Colour red{0.85, 0.1, 0.1}, blue{0.1, 0.2, 0.85};

ui::DrawMeshPtr boxMesh(Vec3 min, Vec3 max)
{
    return ui::drawMeshOf(mesh::box(min, max));
}

ui::ViewScenePtr sceneOf(std::vector<ui::ViewItem> items)
{
    auto scene = std::make_shared<ui::ViewScene>();
    scene->items = std::move(items);
    return scene;
}

bool isRed(QColor c)
{
    return c.red() > c.green() + 60 && c.red() > c.blue() + 60;
}
bool isBlue(QColor c)
{
    return c.blue() > c.red() + 60 && c.blue() > c.green() + 40;
}
bool isGrey(QColor c)
{
    return std::abs(c.red() - c.green()) < 12 && std::abs(c.green() - c.blue()) < 12;
}
QColor middle(const QImage& image)
{
    return image.pixelColor(image.width() / 2, image.height() / 2);
}

} // namespace

TEST_CASE("render thread: a red box is in the middle, the background round it, right way up")
{
    test::application();
    Studio studio;
    auto scene = std::make_shared<ui::ViewScene>(*sceneOf({{boxMesh({-5, -5, -5}, {5, 5, 5}), {}, red}}));
    // Blue above, right of the middle: up is up and right is right.
    scene->items.push_back({boxMesh({9, -2, 9}, {13, 2, 13}), {}, blue});
    scene->backgroundTop = {1, 1, 1};
    scene->backgroundBottom = {0.5, 0.5, 0.5};
    studio.thread.setScene(scene);
    for (const bool parallel : {false, true}) {
        ui::OrbitCamera camera = frontCamera();
        camera.parallel = parallel;
        const QImage image = studio.fine(camera);
        CHECK(image.size() == QSize(160, 120));
        CHECK(isRed(middle(image)));
        CHECK(image.pixelColor(0, 0).red() > 240);
        CHECK(image.pixelColor(0, 119).red() < 140);
        const auto at = camera.project({11, -2, 11});
        REQUIRE(at);
        CHECK(isBlue(image.pixelColor(static_cast<int>(at->x), static_cast<int>(at->y))));
        // The outline is where the camera's own projection has it, to a pixel.
        const auto corner = camera.project({-5, -5, -5});
        REQUIRE(corner);
        const int x = static_cast<int>(corner->x), y = static_cast<int>(corner->y);
        CHECK(isRed(image.pixelColor(x + 2, y - 2)));
        CHECK(isGrey(image.pixelColor(x - 2, y - 2)));
        CHECK(isGrey(image.pixelColor(x + 2, y + 2)));
    }
}

TEST_CASE("render thread: the newest camera wins, and each picture carries its own")
{
    test::application();
    Studio studio;
    studio.thread.setScene(sceneOf({{boxMesh({-5, -5, -5}, {5, 5, 5}), {}, red}}));
    ui::OrbitCamera camera = frontCamera();
    for (int i = 0; i < 200; ++i) {
        camera.azimuth += 0.01;
        studio.thread.setCamera(camera, 1);
    }
    REQUIRE(studio.waitFor([&] { return !studio.frames.empty() && studio.frames.back().fine; }));
    CHECK(studio.frames.back().camera == camera);
    CHECK(studio.frames.size() < 50);
    // The pixel ratio makes the picture larger, not the view wider.
    studio.frames.clear();
    studio.thread.setCamera(camera, 2);
    REQUIRE(studio.waitFor([&] { return !studio.frames.empty(); }));
    CHECK(studio.frames.back().image.size() == QSize(320, 240));
    CHECK(studio.frames.back().camera == camera);
}

TEST_CASE("render thread: another scene, another picture; the same mesh in two places")
{
    test::application();
    Studio studio;
    const auto box = boxMesh({-5, -5, -5}, {5, 5, 5});
    const ui::OrbitCamera camera = frontCamera();
    studio.thread.setScene(sceneOf({{box, {}, red}}));
    CHECK(isRed(middle(studio.fine(camera))));
    studio.frames.clear();
    studio.thread.setScene(sceneOf({{box, {}, blue}, {box, Transform::translation({-12, 0, 0}), red}}));
    REQUIRE(studio.waitFor([&] { return !studio.frames.empty() && studio.frames.back().fine; }));
    const QImage image = studio.frames.back().image;
    CHECK(isBlue(middle(image)));
    const auto left = camera.project({-12, -5, 0});
    CHECK(isRed(image.pixelColor(static_cast<int>(left->x), static_cast<int>(left->y))));
    studio.frames.clear();
    studio.thread.setScene(nullptr);
    REQUIRE(studio.waitFor([&] { return !studio.frames.empty() && studio.frames.back().fine; }));
    CHECK(isGrey(middle(studio.frames.back().image)));
}

TEST_CASE("render thread: a painted place shows on the face that it lies on")
{
    test::application();
    Studio studio;
    const mesh::Mesh box = mesh::box({-5, -5, -5}, {5, 5, 5});
    // The same triangles as the solid's front, y = -5.
    std::vector<mesh::Index> front;
    for (std::size_t t = 0; t < box.triangles.size(); ++t)
        if (box.corner(t, 0).y == -5 && box.corner(t, 1).y == -5 && box.corner(t, 2).y == -5)
            front.push_back(static_cast<mesh::Index>(t));
    REQUIRE(front.size() == 2);
    ui::ViewItem painted{ui::drawMeshOf(subset(box, front)), {}, blue};
    painted.decal = true;
    studio.thread.setScene(sceneOf({painted, {ui::drawMeshOf(box), {}, red}}));
    ui::OrbitCamera camera = frontCamera();
    camera.azimuth += 0.7; // askew, where depths of coincident faces are rounded differently
    camera.elevation += 0.5;
    const QImage image = studio.fine(camera);
    int seen = 0;
    for (double x = -4.5; x <= 4.5; x += 1)
        for (double z = -4.5; z <= 4.5; z += 1, ++seen) {
            const auto at = camera.project({x, -5, z});
            CHECK(isBlue(image.pixelColor(static_cast<int>(at->x), static_cast<int>(at->y))));
        }
    CHECK(seen == 100);
    const auto side = camera.project({5, 0, 0});
    CHECK(isRed(image.pixelColor(static_cast<int>(side->x), static_cast<int>(side->y))));
}

TEST_CASE("render thread: see-through patches and solids let through what is behind, nearest on top")
{
    test::application();
    Studio studio;
    auto scene = std::make_shared<ui::ViewScene>();
    const auto patchAt = [](double y, ui::Colour colour) {
        return ui::ViewPatch{{{-8, y, -8}, {8, y, -8}, {8, y, 8}, {-8, y, 8}}, colour, 0.75};
    };
    const bool farFirst = GENERATE(true, false);
    scene->patches = {patchAt(10, red), patchAt(-10, blue)};
    if (!farFirst)
        std::swap(scene->patches[0], scene->patches[1]);
    scene->backgroundTop = scene->backgroundBottom = {1, 1, 1};
    studio.thread.setScene(scene);
    const QColor both = middle(studio.fine(frontCamera()));
    // Over white: red at 0.75, then blue at 0.75.
    for (const auto& [seen, wanted] : {std::pair{both.redF(), 0.25 * (0.25 + 0.75 * red.r) + 0.75 * blue.r},
                                       std::pair{both.greenF(), 0.25 * (0.25 + 0.75 * red.g) + 0.75 * blue.g},
                                       std::pair{both.blueF(), 0.25 * (0.25 + 0.75 * red.b) + 0.75 * blue.b}})
        CHECK(static_cast<double>(seen) == Approx(wanted).margin(0.015));
}

TEST_CASE("render thread: patches that cross are in front of each other on either side of the line")
{
    test::application();
    Studio studio;
    auto scene = std::make_shared<ui::ViewScene>();
    // Seen from the front they make an X from above: on the left the red one is nearer, on the right the blue one.
    scene->patches = {{{{-8, -8, -8}, {8, 8, -8}, {8, 8, 8}, {-8, -8, 8}}, red, 0.9},
                      {{{-8, 8, -8}, {8, -8, -8}, {8, -8, 8}, {-8, 8, 8}}, blue, 0.9}};
    studio.thread.setScene(scene);
    const ui::OrbitCamera camera = frontCamera();
    const QImage image = studio.fine(camera);
    CHECK(isRed(image.pixelColor(image.width() / 2 - 10, image.height() / 2)));
    CHECK(isBlue(image.pixelColor(image.width() / 2 + 10, image.height() / 2)));
}

TEST_CASE("render thread: a patch inside a see-through solid is seen, one before it lies over it")
{
    test::application();
    Studio studio;
    auto scene = std::make_shared<ui::ViewScene>();
    ui::ViewItem ghost{boxMesh({-10, -10, -10}, {10, 10, 10}), {}, {0.9, 0.9, 0.9}};
    ghost.opacity = 0.3;
    scene->items = {ghost};
    const auto patchAt = [](double x, double y, ui::Colour colour) {
        return ui::ViewPatch{{{x - 3, y, -3}, {x + 3, y, -3}, {x + 3, y, 3}, {x - 3, y, 3}}, colour, 0.9};
    };
    scene->patches = {patchAt(-5, -3, red), patchAt(-5, -15, blue), patchAt(5, -3, blue), patchAt(5, 15, red)};
    studio.thread.setScene(scene);
    const QImage image = studio.fine(frontCamera());
    const auto pixelAt = [&](Vec3 p) {
        const auto at = frontCamera().project(p);
        return image.pixelColor(static_cast<int>(at->x), static_cast<int>(at->y));
    };
    CHECK(isBlue(pixelAt({-5, -15, 0})));
    CHECK(isBlue(pixelAt({5, -3, 0})));
    CHECK(pixelAt({-5, -15, 0}).blue() - pixelAt({-5, -15, 0}).red() >
          pixelAt({5, -3, 0}).blue() - pixelAt({5, -3, 0}).red()); // the ghost veils only the one inside
}

TEST_CASE("render thread: from inside a solid its far walls are seen; open and mirrored meshes from both sides")
{
    test::application();
    Studio studio;
    const mesh::Mesh box = mesh::box({-5, -5, -5}, {5, 5, 5});
    CHECK(ui::drawMeshOf(box)->solid);
    CHECK_FALSE(ui::drawMeshOf(test::turnedOver(box))->solid);
    const mesh::Mesh open = test::without(test::cuboid({-5, -5, -5}, {5, 5, 5}), {2, 3}); // no top
    CHECK_FALSE(ui::drawMeshOf(open)->solid);
    studio.thread.setScene(sceneOf({{ui::drawMeshOf(box), {}, red}}));
    ui::OrbitCamera camera = frontCamera();
    camera.distanceMm = 1;
    CHECK(isRed(middle(studio.fine(camera))));
    studio.thread.setScene(sceneOf({{ui::drawMeshOf(open), {}, red}}));
    camera = frontCamera();
    camera.elevation = 1.2;
    CHECK(isRed(middle(studio.fine(camera))));
    Transform mirror;
    mirror.m[0] = -1;
    const QImage plain = (studio.thread.setScene(sceneOf({{ui::drawMeshOf(box), {}, red}})), studio.fine(camera));
    studio.thread.setScene(sceneOf({{ui::drawMeshOf(box), mirror, red}}));
    const QImage mirrored = studio.fine(camera);
    // A box is its own mirror image: same faces, same light.
    CHECK(isRed(middle(mirrored)));
    CHECK(std::abs(middle(mirrored).red() - middle(plain).red()) <= 1);
}

TEST_CASE("render thread: lines are as wide as they say, on the faces that they lie on")
{
    test::application();
    Studio studio;
    auto scene = std::make_shared<ui::ViewScene>(*sceneOf({{boxMesh({-9, -5, -9}, {9, 5, 9}), {}, red}}));
    scene->lines.push_back({{{0, -5, -9}, {0, -5, 9}}, blue, 4});
    studio.thread.setScene(scene);
    const QImage image = studio.fine(frontCamera());
    int width = 0;
    for (int x = 0; x < image.width(); ++x)
        width += isBlue(image.pixelColor(x, image.height() / 2 - 10)) ? 1 : 0;
    CHECK(width == 4);
}

TEST_CASE("render thread: a glowing solid is tinted, brighter, and has a thick outline")
{
    test::application();
    Studio studio;
    const bool round = GENERATE(true, false);
    const auto solid = round ? ui::drawMeshOf(mesh::icosphere(10, 4)) : boxMesh({-10, -10, -10}, {10, 10, 10});
    ui::ViewItem item{solid, {}, {0.9, 0.6, 0.2}};
    const auto scene = [&] { return std::make_shared<ui::ViewScene>(*sceneOf({item})); };
    ui::OrbitCamera camera = frontCamera();
    camera.parallel = true;
    studio.thread.setScene(scene());
    const QColor plain = middle(studio.fine(camera));
    item.glowing = true;
    studio.thread.setScene(scene());
    const QImage image = studio.fine(camera);
    const QColor glowing = middle(image);
    CHECK(glowing.blue() - glowing.red() > plain.blue() - plain.red() + 20);
    CHECK(qGray(glowing.rgb()) > qGray(plain.rgb()) + 15);
    // Along the middle row from outside: the outline's own colour, about as wide as it is meant to be.
    int outline = 0;
    for (int x = 0; x < image.width() / 2; ++x) {
        const QColor c = image.pixelColor(x, image.height() / 2);
        outline += c.red() < 40 && std::abs(c.green() - 115) < 30 && std::abs(c.blue() - 178) < 30 ? 1 : 0;
    }
    CHECK(outline >= 2);
    CHECK(outline <= 6);
    // Farther away the background is left alone.
    const int edge = static_cast<int>(camera.project({-10, 0, 0})->x);
    CHECK(isGrey(image.pixelColor(edge - 4, image.height() / 2)));
    CHECK_FALSE(isGrey(image.pixelColor(edge - 1, image.height() / 2)));
}

TEST_CASE("render thread: coarse while moving, fine when at rest")
{
    test::application();
    Studio studio;
    const auto ball = ui::drawMeshOf(mesh::icosphere(10, 6));
    studio.thread.setScene(sceneOf({{ball, {}, red}}));
    ui::OrbitCamera camera = frontCamera();
    studio.thread.setMoving(true);
    for (int i = 0; i < 5; ++i) {
        studio.frames.clear();
        camera.azimuth += 0.1;
        studio.thread.setCamera(camera, 1);
        REQUIRE(studio.waitFor([&] { return !studio.frames.empty(); }));
        CHECK(studio.frames.back().camera == camera);
        CHECK(isRed(middle(studio.frames.back().image)));
        CHECK_FALSE(studio.frames.back().fine);
    }
    studio.frames.clear();
    QElapsedTimer timer;
    timer.start();
    while (timer.elapsed() < 400)
        test::application().processEvents(QEventLoop::AllEvents, 20);
    CHECK(studio.frames.empty()); // still held
    studio.thread.setMoving(false);
    REQUIRE(studio.waitFor([&] { return !studio.frames.empty(); }));
    CHECK(studio.frames.back().fine);
    CHECK(studio.frames.back().camera == camera);
    studio.frames.clear();
    timer.restart();
    while (timer.elapsed() < 300)
        test::application().processEvents(QEventLoop::AllEvents, 20);
    CHECK(studio.frames.empty()); // one is enough
}

TEST_CASE("render thread: closed at any moment, soon and in peace")
{
    test::application();
    const auto large = ui::drawMeshOf(mesh::torus(30, 12, 800, 300));
    QElapsedTimer timer;
    for (int i = 0; i < 12; ++i) {
        ui::RenderThread thread;
        ui::OrbitCamera camera = frontCamera();
        camera.widthPx = 600;
        camera.heightPx = 400;
        if (i > 0) {
            thread.setScene(sceneOf({{large, {}, red}}));
            thread.setCamera(camera, 1);
        }
        timer.restart();
        while (timer.elapsed() < 40 * i)
            test::application().processEvents(QEventLoop::AllEvents, 5);
        timer.restart();
    }
    CHECK(timer.elapsed() < 1000); // the last one's end
}
