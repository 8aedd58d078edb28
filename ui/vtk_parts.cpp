// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
// GLEW must come before any other OpenGL header.
#include <GL/glew.h>

#include "ui/vtk_parts.h"

#include "ui/gl_context.h"
#include "ui/studio_light.h"

#include <mutex>
#include <vtkActor.h>
#include <vtkFloatArray.h>
#include <vtkGenericOpenGLRenderWindow.h>
#include <vtkLight.h>
#include <vtkMatrix4x4.h>
#include <vtkNew.h>
#include <vtkObjectFactory.h>
#include <vtkOpenGLState.h>
#include <vtkPoints.h>
#include <vtkPolyData.h>
#include <vtkPolyDataMapper.h>
#include <vtkProperty.h>
#include <vtkRenderer.h>

namespace quoin::ui {

namespace {

/// VTK's window for contexts that someone else made, except that it accepts a context without GLX: GLEW loads all
/// functions first and then reports that there is no GLX display, which a surfaceless context doesn't have or need.
class SurfacelessWindow : public vtkGenericOpenGLRenderWindow {
public:
    static SurfacelessWindow* New();
    SurfacelessWindow(const SurfacelessWindow&) = delete;
    SurfacelessWindow& operator=(const SurfacelessWindow&) = delete;

    void OpenGLInitContext() override
    {
        this->ContextCreationTime.Modified();
        if (this->Initialized)
            return;
        this->GlewInitValid = loadGlFunctions();
        this->Initialized = this->GlewInitValid;
        this->MaximumHardwareLineWidth = 1; // wider ones are drawn by VTK's shader, which every driver can
    }
    bool usable() const { return this->Initialized; }

protected:
    SurfacelessWindow() = default;
};
vtkStandardNewMacro(SurfacelessWindow)

    /// Lines on faces are drawn a little nearer than the faces.
    void resolveCoincidence()
{
    static std::once_flag once; // VTK keeps this for all threads
    std::call_once(once, [] { vtkMapper::SetResolveCoincidentTopologyToPolygonOffset(); });
}

} // namespace

vtkSmartPointer<vtkRenderWindow> windowOnCurrentContext(int widthPx, int heightPx)
{
    resolveCoincidence();
    auto window = vtkSmartPointer<SurfacelessWindow>::New();
    window->SetOwnContext(0);
    window->SetReadyForRendering(true);
    window->SetIsCurrent(true);
    window->SetFrameBlitModeToNoBlit();
    window->SetSize(widthPx, heightPx);
    window->OpenGLInit();
    if (!window->usable())
        return nullptr;
    // What VTK's own windows ask for too; without it a flat thing hides all that is laid over it later.
    window->GetState()->vtkglDepthFunc(GL_LEQUAL);
    return window;
}

void addStudioLamps(vtkRenderer& renderer)
{
    renderer.AutomaticLightCreationOff();
    for (const Lamp& lamp : studioLamps) {
        vtkNew<vtkLight> light;
        light->SetLightTypeToCameraLight();
        light->SetPosition(lamp.from.x, lamp.from.y, lamp.from.z);
        light->SetFocalPoint(0, 0, 0);
        light->SetIntensity(lamp.strength);
        renderer.AddLight(light);
    }
}

void setStudioLook(vtkProperty& look, const Colour& colour)
{
    look.SetColor(colour.r, colour.g, colour.b);
    look.SetAmbient(ambientShare);
    look.SetDiffuse(diffuseShare);
    look.SetSpecular(specularShare);
    look.SetSpecularPower(specularPower);
}

void setBackground(vtkRenderer& renderer, const Colour& top, const Colour& bottom)
{
    renderer.GradientBackgroundOn();
    renderer.SetBackground(bottom.r, bottom.g, bottom.b);
    renderer.SetBackground2(top.r, top.g, top.b);
}

vtkSmartPointer<vtkMatrix4x4> matrixOf(const mesh::Transform& placement)
{
    auto matrix = vtkSmartPointer<vtkMatrix4x4>::New();
    matrix->DeepCopy(placement.m.data());
    return matrix;
}

vtkSmartPointer<vtkFloatArray> arrayOn(const FloatTriples& triples)
{
    auto out = vtkSmartPointer<vtkFloatArray>::New();
    out->SetNumberOfComponents(3);
    constexpr int notOurs = 1; // VTK never frees it, and writes to it only when asked
    out->SetArray(const_cast<float*>(triples.data()->data()), static_cast<vtkIdType>(3 * triples.size()), notOurs);
    return out;
}

vtkSmartPointer<vtkPoints> pointsOn(const FloatTriples& points)
{
    auto out = vtkSmartPointer<vtkPoints>::New();
    out->SetData(arrayOn(points));
    return out;
}

vtkSmartPointer<vtkActor> actorOf(vtkPolyData* data, const Colour& colour)
{
    vtkNew<vtkPolyDataMapper> mapper;
    mapper->SetInputData(data);
    mapper->ScalarVisibilityOff();
    auto actor = vtkSmartPointer<vtkActor>::New();
    actor->SetMapper(mapper);
    actor->GetProperty()->SetColor(colour.r, colour.g, colour.b);
    return actor;
}

void keepDepth(vtkMapper& mapper)
{
    double factor = 0, units = 0;
    vtkMapper::GetResolveCoincidentTopologyPolygonOffsetParameters(factor, units);
    mapper.SetRelativeCoincidentTopologyPolygonOffsetParameters(-factor, -units);
}

vtkSmartPointer<vtkActor> lineActorOf(vtkPolyData* data, const Colour& colour, double widthPx)
{
    auto actor = actorOf(data, colour);
    actor->GetProperty()->LightingOff();
    actor->GetProperty()->SetLineWidth(static_cast<float>(widthPx));
    return actor;
}

} // namespace quoin::ui
