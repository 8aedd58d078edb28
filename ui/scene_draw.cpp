// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/scene_draw.h"

#include "ui/offscreen.h"
#include "ui/shading.h"
#include "ui/vtk_parts.h"

#include <algorithm>
#include <array>
#include <map>
#include <numbers>
#include <vtkActor.h>
#include <vtkActor2D.h>
#include <vtkCamera.h>
#include <vtkCellArray.h>
#include <vtkFloatArray.h>
#include <vtkImageData.h>
#include <vtkMatrix4x4.h>
#include <vtkNew.h>
#include <vtkPNGWriter.h>
#include <vtkPlaneSource.h>
#include <vtkPointData.h>
#include <vtkPolyData.h>
#include <vtkPolyDataMapper.h>
#include <vtkPolyDataMapper2D.h>
#include <vtkProperty.h>
#include <vtkProperty2D.h>
#include <vtkRenderWindow.h>
#include <vtkRenderer.h>
#include <vtkSmartPointer.h>
#include <vtkTextActor.h>
#include <vtkTextProperty.h>
#include <vtkTexture.h>
#include <vtkUnsignedCharArray.h>

namespace quoin::ui {

using mesh::Mesh;
using mesh::Transform;
using mesh::Vec2;
using mesh::Vec3;

namespace {

/// Drawn this many times larger each way and averaged down: smooth outlines on every driver.
constexpr int oversampling = 2;

constexpr Colour ink{0.16, 0.17, 0.19};
constexpr Colour backgroundTop{1.0, 1.0, 1.0};
constexpr Colour backgroundBottom{0.90, 0.91, 0.92};
constexpr Colour personColour{0.80, 0.815, 0.835};

/// A mesh on its way to the card: its faces, and the borders of its labelled faces.
struct Surfaces {
    vtkSmartPointer<vtkPolyData> faces;
    vtkSmartPointer<vtkPolyData> borders;
};

Surfaces surfacesOf(const Mesh& mesh)
{
    const ShadedMesh shadedMesh = shaded(mesh);
    vtkNew<vtkPoints> points;
    points->DeepCopy(pointsOn(shadedMesh.points));
    vtkNew<vtkFloatArray> normals;
    normals->DeepCopy(arrayOn(shadedMesh.normals));
    Surfaces out{vtkSmartPointer<vtkPolyData>::New(), vtkSmartPointer<vtkPolyData>::New()};
    out.faces->SetPoints(points);
    out.faces->GetPointData()->SetNormals(normals);
    out.faces->SetPolys(cellsOf(shadedMesh.triangles));
    out.borders->SetPoints(points);
    out.borders->SetLines(cellsOf(shadedMesh.borders));
    return out;
}

void addItems(vtkRenderer& renderer, const Scene& scene)
{
    constexpr double seamWidthPx = 1.8;
    std::map<const Mesh*, Surfaces> made;
    for (const SceneItem& item : scene.items) {
        auto found = made.find(item.mesh);
        if (found == made.end())
            found = made.emplace(item.mesh, surfacesOf(*item.mesh)).first;
        const auto actor = actorOf(found->second.faces, item.colour);
        setStudioLook(*actor->GetProperty(), item.colour);
        actor->SetUserMatrix(matrixOf(item.placement));
        renderer.AddActor(actor);
        if (found->second.borders->GetNumberOfLines() > 0) {
            const auto lines = lineActorOf(found->second.borders, ink, seamWidthPx * oversampling);
            lines->SetUserMatrix(matrixOf(item.placement));
            renderer.AddActor(lines);
        }
    }
    for (const SceneLine& line : scene.lines) {
        vtkNew<vtkPolyData> data;
        vtkNew<vtkPoints> ends;
        ends->InsertNextPoint(line.from.x, line.from.y, line.from.z);
        ends->InsertNextPoint(line.to.x, line.to.y, line.to.z);
        data->SetPoints(ends);
        data->SetLines(cellsOf(std::vector<std::vector<int>>{{0, 1}}));
        renderer.AddActor(lineActorOf(data, line.colour, line.widthPx * oversampling));
    }
}

void addPlain(vtkRenderer& renderer, const Mesh& mesh, const Colour& colour, bool lit)
{
    if (mesh.empty())
        return;
    const auto actor = actorOf(surfacesOf(mesh).faces, colour);
    if (!lit)
        actor->GetProperty()->LightingOff();
    renderer.AddActor(actor);
}

/// The shadow as a see-through picture on a rectangle.
void addShadow(vtkRenderer& renderer, const FloorShadow& shadow)
{
    if (shadow.columns == 0)
        return;
    constexpr unsigned shadowOpacityPercent = 42;
    vtkNew<vtkImageData> image;
    image->SetDimensions(shadow.columns, shadow.rows, 1);
    image->AllocateScalars(VTK_UNSIGNED_CHAR, 4);
    auto* to = static_cast<unsigned char*>(image->GetScalarPointer());
    for (const std::uint8_t dark : shadow.darkness) {
        for (const double channel : {ink.r, ink.g, ink.b})
            *to++ = static_cast<unsigned char>(255 * channel);
        *to++ = static_cast<unsigned char>(dark * shadowOpacityPercent / 100);
    }
    vtkNew<vtkPlaneSource> plane;
    const Vec3 corner = shadow.corner;
    plane->SetOrigin(corner.x, corner.y, corner.z);
    plane->SetPoint1(corner.x + shadow.widthMm, corner.y, corner.z);
    plane->SetPoint2(corner.x, corner.y + shadow.depthMm, corner.z);
    plane->Update();
    vtkNew<vtkTexture> texture;
    texture->SetInputData(image);
    texture->InterpolateOn();
    const auto actor = actorOf(plane->GetOutput(), {1, 1, 1});
    actor->SetTexture(texture);
    actor->GetProperty()->LightingOff();
    actor->ForceTranslucentOn();
    renderer.AddActor(actor);
}

void setCamera(vtkRenderer& renderer, const ViewCamera& view)
{
    vtkCamera& camera = *renderer.GetActiveCamera();
    const Vec3 target = view.eye - view.back;
    camera.SetPosition(view.eye.x, view.eye.y, view.eye.z);
    camera.SetFocalPoint(target.x, target.y, target.z);
    camera.SetViewUp(view.up.x, view.up.y, view.up.z);
    camera.SetViewAngle(viewAngleDegrees);
    renderer.ResetCameraClippingRange();
}

/// Flat things laid over the picture; pixels of the finished picture from the bottom left.
class Overlay {
public:
    explicit Overlay(vtkRenderer& renderer) : m_renderer(renderer) {}

    void disc(Vec2 middle, double radiusPx, const Colour& colour, int layer)
    {
        constexpr int sides = 48;
        std::vector<Vec2> outline;
        for (int i = 0; i < sides; ++i) {
            const double a = 2 * std::numbers::pi * i / sides;
            outline.push_back(middle + radiusPx * Vec2{std::cos(a), std::sin(a)});
        }
        polygon(outline, colour, layer);
    }
    /// A straight line as a thin rectangle, since overlays know no wide lines.
    void line(Vec2 from, Vec2 to, double widthPx, const Colour& colour, int layer)
    {
        const Vec2 along = to - from;
        const double distance = length(along);
        if (!(distance > 0))
            return;
        const Vec2 aside = widthPx / 2 / distance * Vec2{-along.y, along.x};
        polygon({from - aside, to - aside, to + aside, from + aside}, colour, layer);
    }
    enum class Align { Left, Centre };
    void text(const std::string& words, Vec2 at, int sizePx, bool bold, Align align, int layer)
    {
        if (words.empty())
            return;
        vtkNew<vtkTextActor> actor;
        actor->SetInput(words.c_str());
        actor->SetPosition(at.x * oversampling, at.y * oversampling);
        actor->SetLayerNumber(layer);
        vtkTextProperty& look = *actor->GetTextProperty();
        look.SetFontFamilyToArial();
        look.SetFontSize(sizePx * oversampling);
        look.SetBold(bold ? 1 : 0);
        look.SetColor(ink.r, ink.g, ink.b);
        look.SetVerticalJustificationToCentered();
        if (align == Align::Centre)
            look.SetJustificationToCentered();
        m_renderer.AddActor2D(actor);
    }

private:
    void polygon(const std::vector<Vec2>& outline, const Colour& colour, int layer)
    {
        vtkNew<vtkPoints> points;
        vtkNew<vtkCellArray> cells;
        cells->InsertNextCell(static_cast<int>(outline.size()));
        for (const Vec2 p : outline)
            cells->InsertCellPoint(points->InsertNextPoint(p.x * oversampling, p.y * oversampling, 0));
        vtkNew<vtkPolyData> data;
        data->SetPoints(points);
        data->SetPolys(cells);
        vtkNew<vtkPolyDataMapper2D> mapper;
        mapper->SetInputData(data);
        vtkNew<vtkActor2D> actor;
        actor->SetMapper(mapper);
        actor->GetProperty()->SetColor(colour.r, colour.g, colour.b);
        actor->SetLayerNumber(layer);
        m_renderer.AddActor2D(actor);
    }

    vtkRenderer& m_renderer;
};

void addBadges(Overlay& overlay, const DrawnScene& drawn)
{
    int layer = 1;
    for (const Badge& badge : drawn.badges)
        if (badge.leader) {
            overlay.line({badge.x, badge.y}, {badge.anchorX, badge.anchorY}, 1.6, ink, layer);
            overlay.disc({badge.anchorX, badge.anchorY}, 3.5, ink, layer);
        }
    for (const Badge& badge : drawn.badges) {
        const std::string& label = drawn.scene->items[badge.item].label;
        constexpr int shortSizePx = 20, longSizePx = 16;
        overlay.disc({badge.x, badge.y}, badgeRadiusPx, ink, layer + 1);
        overlay.disc({badge.x, badge.y}, badgeRadiusPx - 1.6, {1, 1, 1}, layer + 2);
        overlay.text(label, {badge.x, badge.y - 1.0}, label.size() <= 2 ? shortSizePx : longSizePx, true,
                     Overlay::Align::Centre, layer + 3);
        layer += 3; // a badge that had to overlap another hides it whole, number and all
    }
}

void addWords(Overlay& overlay, const DrawnScene& drawn)
{
    constexpr int captionPx = 22, wordPx = 20;
    constexpr double captionX = 28, captionY = 30, belowPoint = 18;
    overlay.text(drawn.scene->caption, {captionX, captionY}, captionPx, false, Overlay::Align::Left, 0);
    std::vector<SceneWord> words = drawn.scene->words;
    words.push_back(drawn.rodWord);
    for (const SceneWord& word : words) {
        const Seen at = drawn.camera.project(word.at);
        overlay.text(word.text, {at.x, at.y - belowPoint}, wordPx, false, Overlay::Align::Centre, 0);
    }
}

/// The window's picture, averaged down to its final size.
vtkSmartPointer<vtkImageData> finishedImage(vtkRenderWindow& window, int width, int height)
{
    vtkNew<vtkUnsignedCharArray> large;
    window.GetPixelData(0, 0, width * oversampling - 1, height * oversampling - 1, 0, large, 0);
    auto image = vtkSmartPointer<vtkImageData>::New();
    image->SetDimensions(width, height, 1);
    image->AllocateScalars(VTK_UNSIGNED_CHAR, 3);
    const unsigned char* from = large->GetPointer(0);
    auto* to = static_cast<unsigned char*>(image->GetScalarPointer());
    const std::size_t w = static_cast<std::size_t>(width), rowBytes = 3 * w * oversampling;
    constexpr unsigned samples = oversampling * oversampling;
    for (std::size_t y = 0; y < static_cast<std::size_t>(height); ++y)
        for (std::size_t x = 0; x < w; ++x)
            for (std::size_t c = 0; c < 3; ++c) {
                unsigned sum = samples / 2;
                for (std::size_t dy = 0; dy < oversampling; ++dy)
                    for (std::size_t dx = 0; dx < oversampling; ++dx)
                        sum += from[(y * oversampling + dy) * rowBytes + 3 * (x * oversampling + dx) + c];
                to[3 * (y * w + x) + c] = static_cast<unsigned char>(sum / samples);
            }
    return image;
}

std::string encoded(vtkImageData& image)
{
    vtkNew<vtkPNGWriter> writer;
    writer->SetInputData(&image);
    writer->WriteToMemoryOn();
    writer->Write();
    vtkUnsignedCharArray* bytes = writer->GetResult();
    return {reinterpret_cast<const char*>(bytes->GetPointer(0)), static_cast<std::size_t>(bytes->GetNumberOfValues())};
}

} // namespace

Result<std::string> pngOf(const DrawnScene& drawn)
{
    const int width = drawn.camera.widthPx, height = drawn.camera.heightPx;
    const auto offscreen = Offscreen::open(width * oversampling, height * oversampling);
    if (!offscreen)
        return offscreen.problem();
    vtkRenderWindow& window = *(*offscreen)->window();
    window.SetMultiSamples(4);
    vtkNew<vtkRenderer> renderer;
    setBackground(*renderer, backgroundTop, backgroundBottom);
    addStudioLamps(*renderer);
    addShadow(*renderer, drawn.shadow);
    addItems(*renderer, *drawn.scene);
    addPlain(*renderer, drawn.person, personColour, false);
    addPlain(*renderer, drawn.rodLight, {0.97, 0.97, 0.97}, true);
    addPlain(*renderer, drawn.rodDark, {0.75, 0.16, 0.12}, true);
    Overlay overlay(*renderer);
    addWords(overlay, drawn);
    addBadges(overlay, drawn);
    window.AddRenderer(renderer);
    setCamera(*renderer, drawn.camera);
    window.Render();
    const auto image = finishedImage(window, width, height);
    window.RemoveRenderer(renderer);
    return encoded(*image);
}

} // namespace quoin::ui
