// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/machine.h"

#include <vector>

/// What a plan begins with before the maker has said anything.
namespace quoin::core {

/// One machine for each bed, as many as it counts, with usual values; named by the bed, "300x300x400 2" for the second
/// of a kind. All common practice, no source: attended Monday to Friday from 8 to 18, wear and room 0.50 an hour.
std::vector<Machine> usualMachines(const std::vector<Bed>& beds, double marginMm);

/// The next full hour at which somebody is at one of the machines; the next full hour when nobody ever is.
Moment usualStart(const std::vector<Machine>& machines, Moment now);

} // namespace quoin::core
