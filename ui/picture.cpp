// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/picture.h"

#include "core/joint_shape.h"
#include "ui/exploded.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numbers>

#include <fmt/format.h>

namespace quoin::ui {

using core::Joint;
using core::Project;
using core::Seam;
using mesh::Box3;
using mesh::Mesh;
using mesh::Transform;
using mesh::Vec3;

namespace {

constexpr Colour looseColour{0.55, 0.42, 0.30};

std::map<int, std::size_t> indexOfNumber(const Project& project)
{
    std::map<int, std::size_t> index;
    for (std::size_t i = 0; i < project.pieces.size(); ++i)
        index[project.pieces[i].number] = i;
    return index;
}

std::vector<SceneItem> itemsOf(const Project& project, const std::vector<Mesh>& jointed)
{
    const auto index = indexOfNumber(project);
    std::vector<std::pair<std::size_t, std::size_t>> touching;
    for (const Seam& seam : project.seams)
        if (index.contains(seam.pieceBelow) && index.contains(seam.pieceAbove))
            touching.emplace_back(index.at(seam.pieceBelow), index.at(seam.pieceAbove));
    const std::vector<Colour> colours = coloursFor(project.pieces.size(), touching);
    std::vector<SceneItem> items;
    for (std::size_t i = 0; i < project.pieces.size() && i < jointed.size(); ++i)
        items.push_back({&jointed[i], {}, colours[i], std::to_string(project.pieces[i].number)});
    return items;
}

Box3 boxOf(const std::vector<Mesh>& meshes)
{
    Box3 box;
    for (const Mesh& mesh : meshes) {
        const Box3 one = bounds(mesh);
        box.add(one.min);
        box.add(one.max);
    }
    return box;
}

std::string captionOf(const Project& project, const Box3& box)
{
    const Vec3 e = box.extents();
    const std::size_t n = project.pieces.size();
    return fmt::format("{}: {} piece{}, {:.0f} x {:.0f} x {:.0f} mm", project.part.name, n, n == 1 ? "" : "s", e.x, e.y,
                       e.z);
}

/// The room of a bed as a frame of lines on the floor, to the left of the model and as far from the eye.
void addBedFrame(Scene& scene, const core::Bed& bed, const Box3& box)
{
    const Vec3 towards = defaultViewFrom(box);
    const Vec3 front = normalized(Vec3{towards.x, towards.y, 0}), right = cross(Vec3{0, 0, 1}, front);
    const Vec3 e = box.extents(), half{bed.widthMm / 2, bed.depthMm / 2, 0};
    const auto halfWidth = [&](Vec3 size) { return 0.5 * (std::abs(right.x) * size.x + std::abs(right.y) * size.y); };
    const double gap = 0.1 * std::max(e.x, e.y);
    const Vec3 middle =
        Vec3{box.centre().x, box.centre().y, box.min.z} - (halfWidth(e) + gap + halfWidth(2 * half)) * right;
    const Vec3 top{0, 0, bed.heightMm};
    constexpr int roundSides = 48;
    const int sides = bed.shape == core::Bed::Shape::Round ? roundSides : 4;
    const auto corner = [&](int i) {
        if (sides == 4) {
            constexpr std::array<std::array<int, 2>, 4> signs{{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}}};
            const auto& sign = signs[static_cast<std::size_t>(i % 4)];
            return middle + Vec3{sign[0] * half.x, sign[1] * half.y, 0};
        }
        const double a = 2 * std::numbers::pi * i / sides;
        return middle + Vec3{half.x * std::cos(a), half.y * std::sin(a), 0};
    };
    constexpr Colour grey{0.62, 0.64, 0.67};
    const Vec3 nearest =
        sides == 4 ? Vec3{std::copysign(half.x, front.x), std::copysign(half.y, front.y), 0} : half.x * front;
    scene.words.push_back(
        {middle + nearest, fmt::format("bed {:g} x {:g} x {:g} mm", bed.widthMm, bed.depthMm, bed.heightMm)});
    for (int i = 0; i < sides; ++i) {
        scene.lines.push_back({corner(i), corner(i + 1), grey, 1.5});
        scene.lines.push_back({corner(i) + top, corner(i + 1) + top, grey, 1.0});
        if (i % (sides / 4) == 0)
            scene.lines.push_back({corner(i), corner(i) + top, grey, 1.0});
    }
}

/// What lies loose between the pieces, joint by joint: to print and to buy. Joints that can't be made have nothing.
std::vector<Mesh> looseOf(const Project& project)
{
    std::vector<Mesh> loose;
    for (const Joint& joint : project.layout.joints) {
        const Seam& seam = project.seams.at(joint.seam);
        const mesh::Plane& cut = project.plan.nodes.at(static_cast<std::size_t>(seam.cut)).plane;
        Mesh all;
        if (const auto printed = core::printedParts(joint, cut))
            for (const core::JointPart& part : *printed)
                all = mesh::joined(all, part.inPlace);
        if (const auto bought = core::boughtInPlace(joint, cut))
            for (const Mesh& mesh : *bought)
                all = mesh::joined(all, mesh);
        loose.push_back(std::move(all));
    }
    return loose;
}

/// Gap between faces in the exploded picture: proportionate to the pieces, and never so small that a dowel or a stud
/// fills it.
double gapFor(const Project& project, const std::vector<Mesh>& jointed)
{
    constexpr double shareOfPiece = 0.28, dowelRoom = 1.5;
    double sum = 0;
    for (const Mesh& mesh : jointed) {
        const Vec3 e = bounds(mesh).extents();
        sum += (e.x + e.y + e.z) / 3;
    }
    double gap = jointed.empty() ? 0 : shareOfPiece * sum / static_cast<double>(jointed.size());
    for (const Joint& joint : project.layout.joints)
        gap = std::max(gap, dowelRoom * 2 * joint.depthMm);
    return gap;
}

} // namespace

Scene assembledScene(const Project& project, const std::vector<Mesh>& jointed)
{
    constexpr double personFromHeightMm = 700, personFromLengthMm = 1200;
    Scene scene;
    scene.items = itemsOf(project, jointed);
    const Box3 box = boxOf(jointed);
    const Vec3 e = box.extents();
    scene.person = e.z >= personFromHeightMm || std::max(e.x, e.y) >= personFromLengthMm;
    // Beside a much smaller model the bed would be all that is seen.
    constexpr double leastShareOfBed = 0.5;
    if (!scene.person && !project.beds.empty()) {
        const core::Bed& bed = project.beds.front();
        if (std::max({e.x, e.y, e.z}) >= leastShareOfBed * std::max({bed.widthMm, bed.depthMm, bed.heightMm}))
            addBedFrame(scene, bed, box);
    }
    scene.floor = true;
    scene.caption = captionOf(project, box);
    return scene;
}

Scene explodedScene(const Project& project, const std::vector<Mesh>& jointed, const std::vector<Mesh>& loose)
{
    Scene scene;
    scene.items = itemsOf(project, jointed);
    const std::vector<Vec3> shifts = explodedShifts(project.plan, project.pieces, gapFor(project, jointed));
    for (std::size_t i = 0; i < scene.items.size(); ++i)
        scene.items[i].placement = Transform::translation(shifts[i]);
    const auto index = indexOfNumber(project);
    for (std::size_t j = 0; j < loose.size() && j < project.layout.joints.size(); ++j) {
        const Joint& joint = project.layout.joints[j];
        const Seam& seam = project.seams.at(joint.seam);
        const Vec3 below = shifts.at(index.at(seam.pieceBelow)), above = shifts.at(index.at(seam.pieceAbove));
        if (!loose[j].empty())
            scene.items.push_back({&loose[j], Transform::translation(0.5 * (below + above)), looseColour, {}});
        const auto& plane = project.plan.nodes.at(static_cast<std::size_t>(seam.cut)).plane;
        const Vec3 at = frameOf(plane).space(joint.at);
        scene.lines.push_back({at + below, at + above, {0.45, 0.47, 0.50}, 1.0});
    }
    scene.caption = captionOf(project, boxOf(jointed)) + ", taken apart";
    return scene;
}

Status drawPictures(const std::filesystem::path& folder, const Project& project, const std::vector<Mesh>& jointed)
{
    if (const Status done = drawScene(folder / "assembled.png", assembledScene(project, jointed)); !done)
        return done;
    const std::vector<Mesh> loose = looseOf(project);
    return drawScene(folder / "exploded.png", explodedScene(project, jointed, loose));
}

} // namespace quoin::ui
