// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint_ground.h"

/// Dowels and keys for one face. What is chosen keeps every rule; nothing is put yet.
namespace quoin::core {

/// More than a face's size asks for, where the load does.
struct DowelWish {
    double sizeFactor = 1;
    std::size_t countFactor = 1;
};

/// The largest dowel that a face of this size asks for, within what the maker named; and of a key.
double dowelWantedMm(const JointGround& ground, std::size_t seam, const DowelWish& wish = {});

/// Where dowels might go on a seam, with the room that both sides have there.
JointSites dowelSites(const JointGround& ground, std::size_t seam, const DowelWish& wish = {});

/// Two or more dowels, far apart: the largest of the series that the room allows.
/// @param sites  of the same wish
Chosen severalDowels(const JointGround& ground, std::size_t seam, const std::vector<JointSite>& sites,
                     const DowelWish& wish = {});

/// A single one at the roomiest place, which must hold the angle too: a keyed dowel, or a D key where 10 mm fit.
Chosen oneDowel(const JointGround& ground, std::size_t seam, const std::vector<JointSite>& sites);

/// A single loose key of a section at the roomiest place.
Chosen oneKey(const JointGround& ground, std::size_t seam, const std::vector<JointSite>& sites,
              JointForm::Section section);

/// Dowels all along a long thin-walled section: evenly spaced on the middle line of its wall (core/wall_line.h), of the
/// largest size that has its walls there. Nothing for sections that are not long and thin.
Chosen wallDowels(const JointGround& ground, std::size_t seam);

} // namespace quoin::core
