// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"
#include "mesh/result.h"
#include "ui/colour.h"

#include <filesystem>
#include <string>
#include <vector>

namespace quoin::ui {

/// A solid in a picture.
struct SceneItem {
    const mesh::Mesh* mesh = nullptr; ///< must outlive the drawing; one mesh may stand in several places
    mesh::Transform placement;        ///< to the scene's frame: mm, z up
    Colour colour;
    std::string label; ///< a number on a badge; empty: none
};

/// A straight line in the scene, mm.
struct SceneLine {
    mesh::Vec3 from, to;
    Colour colour{0.35, 0.37, 0.40};
    double widthPx = 1.5;
};

/// Small words in the scene, centred a little below a point.
struct SceneWord {
    mesh::Vec3 at;
    std::string text;
};

/// What to draw. The camera is placed so that everything fits.
struct Scene {
    std::vector<SceneItem> items;
    std::vector<SceneLine> lines;
    std::vector<SceneWord> words;
    /// From the scene towards the viewer, any length; (0, 0, 0) looks at the wider side from a little above.
    mesh::Vec3 viewFrom{0, 0, 0};
    std::string caption;  ///< one line at the bottom left
    bool person = false;  ///< a standing figure of 1.75 m beside it
    bool floor = false;   ///< a soft shadow below, on the level of the lowest point
    bool scaleBar = true; ///< a rod of round length on the floor in front
    int widthPx = 1600;
    int heightPx = 1200;
};

/// Where a scene is looked at from when it doesn't say: across the wider horizontal side of its box, turned a quarter,
/// a little from above. A direction towards the viewer.
mesh::Vec3 defaultViewFrom(const mesh::Box3& box);

/// Draws into a PNG file, off the screen, with no display needed. Curved surfaces look smooth, edges crisp, and the
/// borders of labelled faces (cuts) are drawn as dark lines. The file is written under a temporary name, then renamed.
/// @return BadArgument for a scene with no triangles; FileUnwritable for the file, or when the machine has no OpenGL
///         (it names the packages to install).
Status drawScene(const std::filesystem::path& png, const Scene& scene);

} // namespace quoin::ui
