// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/assembly.h"
#include "core/proof_evidence.h"

namespace quoin::core {

/// Every loose part of the files goes into the bore on either side, straight or along its thread: swept on the files'
/// surfaces over its whole reach.
void proveInsertion(const Evidence& evidence, Proof& proof);

/// How far a body in its place comes along a way before it meets a piece, mm; all of `wayMm` when it is free. Bodies
/// may reach into each other at rest by what rounding does.
double clearWayMm(const mesh::Mesh& piece, const mesh::Mesh& body, const Motion& off, double wayMm);

/// Of one step of an order: what is put in when its pieces are together (bolts, nuts, clocking keys) comes to its place
/// past all of them, swept from the outside; a bolt by its whole length.
void proveAccess(const Evidence& evidence, const AssemblyStep& step, const std::string& subject, Proof& proof);

} // namespace quoin::core
