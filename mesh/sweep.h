// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"
#include "mesh/tolerance.h"

#include <memory>
#include <optional>

namespace quoin::mesh {

/// A way of moving without end: straight, or along a screw.
struct Sweep {
    Vec3 point{0, 0, 0};     ///< of the axis; straight: of no meaning
    Vec3 direction{0, 0, 1}; ///< unit; the way that the moving body takes
    /// Way in one turn, mm: positive turns right-handed about `direction`, negative left-handed; 0: straight.
    double leadMm = 0;
};

/// Where something is after a way of s mm.
Transform placeAlong(const Sweep& sweep, double sMm);

/// Surfaces are pulled in by this before they are swept, so that faces that touch at rest, and files' rounding, are no
/// contact: what is found to be free overlaps nowhere by more than twice this.
inline constexpr double sweepPullMm = tolerance::planeSlackMm;

/// The first place at which a moving body meets a standing one.
struct SweepContact {
    /// How far the moving body has come; where surfaces meet all over at once, up to 0.1 mm or a tenth more than at the
    /// very first touch.
    double wayMm;
    Vec3 place; ///< on the standing body
};

/// A body's surface in the coordinates of a motion, in which the motion is a shift along the third one. Straight: two
/// across and one along. Helix of lead L: a point at radius r, angle t and height z along the axis goes to
/// (r, f = z - L t / 2 pi, z): turning it along the screw changes z alone, and f counts modulo L. Whether anything is
/// in the way is then told for the whole way at once, not step by step: two triangles meet on the way just where their
/// difference holds a shift (0, 0, s). Triangles are curved in (r, f): the error of taking them for flat is bounded
/// (second derivatives 1 / r and L / 2 pi r^2, longest side l: at most l^2 / 6 times those) and added to the gap that
/// is asked for; large ones are split until it is small.
///
/// Groups of triangles are told apart by 12 directions across the motion, 7.5 degrees apart (the flanks of threads lie
/// along some of them). The trees are sorted across the motion first: all turns of a thread's flank form one group.
class SweptBody {
public:
    SweptBody(const Mesh& mesh, const Sweep& sweep);
    ~SweptBody();
    SweptBody(SweptBody&&) noexcept;
    SweptBody& operator=(SweptBody&&) noexcept;

    /// Lowest and highest point along the motion, of the mesh as given.
    double lowMm() const;
    double highMm() const;

    struct Impl;
    const Impl& impl() const { return *m_impl; }

private:
    std::unique_ptr<Impl> m_impl;
};

/// A contact at a gap of less than this across a screw's motion counts, mm: what is blocked by less may still be free.
inline constexpr double sweepResolutionMm = 0.002;

/// The first contact on the way from fromMm to toMm. Both bodies must have been made for the same sweep. None means
/// none, up to the pulling in; contacts that open as the motion begins don't count from fromMm > 0 on.
std::optional<SweepContact> firstContact(const SweptBody& moving, const SweptBody& standing, double fromMm,
                                         double toMm);

/// Gap, mm, beside the moving body all along the way: at least this, and looked for up to upToMm; 0 when it is hit.
/// Square to the surfaces, less at most three tenths of itself (the search stops there).
double leastGapBeside(const SweptBody& moving, const SweptBody& standing, double fromMm, double toMm, double upToMm);

} // namespace quoin::mesh
