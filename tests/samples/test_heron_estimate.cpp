// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/print_estimate.h"
#include "core/recipe_book.h"
#include "mesh/mass.h"
#include "sample_models/heron.h"

#include <catch2/catch.hpp>

using namespace quoin;

TEST_CASE("heron estimate: by the strong, coarse recipe its large parts print at 40 to 55 g an hour")
{
    // Large-nozzle prints of big parts run at roughly 40 to 55 grams an hour (common practice, no source).
    const core::Recipe strong = core::RecipeBook().find("1.0 strong").value();
    int large = 0;
    for (const samples::HeronPart& part : samples::heronParts()) {
        const mesh::Mesh seven = mesh::transformed(part.mesh, mesh::Transform::scaling(7));
        if (mesh::volume(seven) / 1000 * 1.24 < 1000) // g; small parts wait for their layers to cool
            continue;
        ++large;
        const core::PieceEstimate e = core::estimatePiece(seven, strong, {}).value();
        INFO(part.name << ": " << e.grams << " g in " << e.hours << " h");
        CHECK(e.grams / e.hours >= 40);
        CHECK(e.grams / e.hours <= 55);
        CHECK(e.grams < mesh::volume(seven) / 1000 * 1.24 * 1.3);
        CHECK(e.mendedLayers == 0);
    }
    CHECK(large >= 4);
}
