// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/part_option.h"

#include <algorithm>

namespace quoin::app {

Result<std::vector<int>> partIds(const core::Design& design, const std::vector<std::string>& names)
{
    std::vector<int> ids;
    if (names.empty())
        for (const core::PartDesign& part : design.parts)
            ids.push_back(part.id);
    for (const std::string& name : names) {
        const auto found = std::find_if(design.parts.begin(), design.parts.end(),
                                        [&](const core::PartDesign& p) { return p.name == name; });
        if (found == design.parts.end()) {
            std::string known;
            for (const core::PartDesign& p : design.parts)
                known += (known.empty() ? "" : ", ") + p.name;
            return Problem{
                Reason::BadArgument, "the design has no part \"" + name + "\"", {}, {}, "It has: " + known + "."};
        }
        ids.push_back(found->id);
    }
    return ids;
}

} // namespace quoin::app
