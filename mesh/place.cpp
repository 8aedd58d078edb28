// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/place.h"

#include <fmt/format.h>

namespace quoin::mesh {

std::string placeText(Vec3 p)
{
    return fmt::format("({:.3f}, {:.3f}, {:.3f}) mm", p.x, p.y, p.z);
}

std::string counted(std::size_t count, const std::string& one, const std::string& many)
{
    if (count == 1)
        return "1 " + one;
    return std::to_string(count) + " " + (many.empty() ? one + "s" : many);
}

} // namespace quoin::mesh
