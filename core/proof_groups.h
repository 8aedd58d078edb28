// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/proof.h"

#include <string>
#include <string_view>
#include <vector>

/// Claims put together for people: what the proof's page and the window both show.
namespace quoin::core {

/// Claims of one kind.
struct ClaimGroup {
    std::string_view chapter;         ///< "Joints": groups of one chapter stand together
    std::string heading;              ///< what all of them say
    std::vector<const Claim*> claims; ///< in the order of the proof
    std::size_t failed = 0;
    bool oneText = false;            ///< every claim's text is the heading
    const Claim* tightest = nullptr; ///< nearest to its limit, or past it by most; a failed one before any other
};

/// By kind, in the order of first claims, chapter by chapter. The claims must outlive the groups.
std::vector<ClaimGroup> groupsOf(const std::vector<const Claim*>& claims);
std::vector<ClaimGroup> groupsOf(const Proof& proof);

/// A number as people read it: six digits at most, no exponent for everyday sizes.
std::string claimNumber(double value);
/// "≤" for "<=", and so on.
std::string relationSign(const std::string& relation);

/// A step of the assembly without the number that it may bring along, for lists that number their lines themselves.
std::string_view withoutNumber(std::string_view line);

} // namespace quoin::core
