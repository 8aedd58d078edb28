// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

/// Every tolerance of the program by name, with its unit. Rounding errors of the data, accuracy bounds that a user
/// may set, and print clearances (core/fit_table.h) are three different things and never share a constant.
namespace quoin::mesh::tolerance {

/// Rounding. Steps of a 32-bit float: 512 to 1024 mm 6.1e-5 mm, 1024 to 2048 mm 1.22e-4 mm (IEEE 754 binary32).
/// Half a step per coordinate, as a share of the largest coordinate.
inline constexpr double floatRelative = 5.97e-8;

/// Rounding: volumes of the two halves of a cut against the whole, relative.
inline constexpr double cutVolumeRelative = 1e-9;

/// Rounding: triangles that a cut leaves with a side or height under this (mm) are closed up before the next step. Far
/// above the rounding of double coordinates (1e-12 mm at a metre), far below what a file can hold.
inline constexpr double cutSliverMm = 1e-7;
/// Rounding: the largest slivers (mm) that may be closed up to get a tangled outline cut; still no larger than the
/// step of a file at a metre.
inline constexpr double largestSliverMm = 1e-4;

/// Rounding: border points of a surface that is sewn into a face may lie this far (mm) off the face's plane.
inline constexpr double mouthOffPlaneMm = 1e-6;

/// Accuracy: a piece may reach past its cut plane by this much after rounding to file precision, mm.
inline constexpr double planeSlackMm = 1e-3;

/// Accuracy: surface of the re-read pieces against the scaled part, mm.
inline constexpr double surfaceMm = 1e-2;

/// Accuracy: chord error of round features, mm.
inline constexpr double chordMm = 0.02;

/// Accuracy: a face counts as flat for standing on when its points lie within this of its plane, mm.
inline constexpr double flatMm = 0.01;

} // namespace quoin::mesh::tolerance
