// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/sliced_actor.h"

#include <vtkObjectFactory.h>
#include <vtkRenderWindow.h>
#include <vtkRenderer.h>

namespace quoin::ui {

vtkStandardNewMacro(SlicedActor);

void SlicedActor::Render(vtkRenderer* renderer, vtkMapper* mapper)
{
    stop->stopped = stop->stopped || stop->ask();
    if (stop->stopped)
        return;
    this->Superclass::Render(renderer, mapper);
    sent = true;
    // Drivers put work off; a picture that is given up must not leave much of it to be done before the next.
    stop->unfinished += triangles;
    if (stop->unfinished < trianglesPerChunk)
        return;
    renderer->GetRenderWindow()->WaitForCompletion();
    stop->unfinished = 0;
}

} // namespace quoin::ui
