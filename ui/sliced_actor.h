// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/solid_actors.h"

#include <vtkOpenGLActor.h>

namespace quoin::ui {

/// An actor that isn't drawn any more once the picture is given up, and knows whether it is on the card.
class SlicedActor : public vtkOpenGLActor {
public:
    static SlicedActor* New();
    vtkTypeMacro(SlicedActor, vtkOpenGLActor) SlicedActor(const SlicedActor&) = delete;
    SlicedActor& operator=(const SlicedActor&) = delete;

    void Render(vtkRenderer* renderer, vtkMapper* mapper) override;

    std::shared_ptr<StopCheck> stop;
    std::size_t triangles = 0;
    bool labelled = false, sent = false;

protected:
    SlicedActor() = default;
};

} // namespace quoin::ui
