// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "proofs.h"

#include <array>
#include <string>

namespace quoin::test {

using core::Claim;

core::Proof smallProof(bool failing)
{
    core::Proof p;
    for (const char* file : {"pieces/01-neck.stl", "pieces/02-neck.stl"}) {
        p.claims.push_back({"file.read", file, "the file can be read", 1, "=", 1, "", true});
        p.claims.push_back({"piece.closed", file, "the surface is closed", 0, "=", 0, "open edges", true});
    }
    p.claims.push_back({"set.volume", "the set", "the pieces have the part's volume", 1e-7, "<=", 1e-5, "", true});
    p.claims.push_back({"joint.wall", "joint 1", "the wall to the side of the bore", 3, ">=", 2.4, "mm", true});
    p.claims.push_back(
        {"joint.wall", "joint 2", "the wall past the bore's end", failing ? 1.25 : 2.5, ">=", 2.4, "mm", !failing});
    p.assembly = {"1. Stand piece 1 on its foot.", "2. Put 2 dowels of 8 mm into piece 1, seam A.",
                  "3. Push piece 2 down onto piece 1 along the axis of the dowels, seam A."};
    p.cautions = {
        "The proof is about shape, from the files as written: no claim says that the joints or the material "
        "carry any load. Strength is estimated apart from it, in strength.json.",
        "Anything that hangs or stands above people needs a second means of holding it, and somebody licensed "
        "to answer for it."};
    return p;
}

core::Proof largeProof(int claims)
{
    constexpr std::array<const char*, 10> kinds{"file.read",  "piece.closed", "piece.manifold", "piece.side",
                                                "piece.skin", "fit.room",     "joint.free",     "joint.clearance",
                                                "joint.wall", "assembly.step"};
    core::Proof p = smallProof(false);
    p.claims.clear();
    for (int i = 0; i < claims; ++i) {
        const bool holds = i % 1500 != 1499;
        p.claims.push_back({kinds[static_cast<std::size_t>(i) % kinds.size()], "piece " + std::to_string(i),
                            "claim of kind " + std::to_string(i % 10), holds ? 0.25 : 0.1, ">=", 0.2, "mm", holds});
    }
    return p;
}

} // namespace quoin::test
