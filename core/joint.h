// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/clearances.h"
#include "core/piece.h"
#include "mesh/recess.h"
#include "mesh/tolerance.h"

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace quoin::core {

/// The thread of a screw or stud; its nominal diameter is the joint's.
struct ThreadForm {
    bool trapezoidal = false; ///< ISO 2901 to 2904; else 45 degree flanks that print without support
    double pitchMm = 0;
    int starts = 1; ///< 1 to 4
    bool leftHand = false;
    double leadMm() const { return starts * pitchMm; }
    friend bool operator==(const ThreadForm&, const ThreadForm&) = default;
};

/// What a joint is, and where it stands on its face: pure data, lengths in mm. A face placed by hand keeps these. The
/// axis is the cut's plane's normal through `at`. Everything on either side lies within a circle about it (see
/// core/joint_envelope.h), save the dovetail, the clocking key, and the openings to the outside of draw bolts.
struct JointForm {
    enum class Kind {
        Dowel,      ///< loose round pin in a blind bore on either side
        Screw,      ///< integral: an external thread grown on one piece, the internal one in the other
        Stud,       ///< loose, a thread at either end
        Key,        ///< not round: holds the angle; loose, or grown on one piece
        Dovetail,   ///< an undercut key grown on one piece; the other slides along it
        DrawBolt,   ///< bought metric screw through one piece into a nut or an insert in the other
        ClockingKey ///< loose bar let in from outside, half in either piece, when they are together: holds the angle
    };
    enum class Section { Square, D, Cross }; ///< of a key
    enum class Rod { Printed, Wood, Steel }; ///< what a dowel is made of
    enum class Hold {
        FarNut,  ///< hexagon nut in a pocket that opens on the far outside
        SideNut, ///< hexagon nut pushed in through a slot from the side
        Insert   ///< heat-set insert in the mouth
    };

    Kind kind = Kind::Dowel;
    mesh::Vec2 at{0, 0}; ///< frame of the cut's plane
    /// Dowel: of the pin. Screw, stud: nominal, of the thread. Key: of the circle round its section. Dovetail: its
    /// widest width. Draw bolt: metric size (8 for M8). Clocking key: its width.
    double diameterMm = 8;
    /// Reach into each side; of a screw, an integral key and a dovetail into the side that they stand out to. Draw
    /// bolt: from the face to the nut's bearing face, or of the insert. Clocking key: half its height.
    double depthMm = 12;
    /// Dowel: the bore has the pin's flat too, so that it can't turn.
    bool keyed = false;
    /// Radians in the plane's frame from u: to the outward normal of a dowel's or a D key's flat, to a side of a square
    /// or an arm of a cross; the way in which a dovetail's carrier leaves the other piece; where a side slot opens; the
    /// way in which a clocking key comes out.
    double angle = 0;
    /// Screw, integral key, dovetail: the piece above carries it (else the piece below). Draw bolt: its head is above.
    bool carrierAbove = false;
    bool integral = false; ///< key: grown on its carrier
    Section section = Section::Square;
    double taperMm = 0; ///< key: narrower at its ends than at the face by so much a side
    Rod rod = Rod::Printed;
    ThreadForm thread;
    double lengthMm = 0; ///< dovetail, clocking key: from `at` along `angle` to its end
    double gripMm = 0;   ///< draw bolt: from the face to the seat of its head
    Hold hold = Hold::Insert;
    friend bool operator==(const JointForm&, const JointForm&) = default;
};

/// A joint on a seam. Geometry for both sides is made from it (core/joint_shape.h).
struct Joint : JointForm {
    std::size_t seam = 0;                      ///< index into the seams
    double clearanceMm = 0;                    ///< per side, square to the surfaces that meet
    double endClearanceMm = 0;                 ///< beyond the end, each side
    double chordMm = mesh::tolerance::chordMm; ///< facets of round surfaces keep within this of the true ones
    /// Draw bolt: how far from the face, along the axis, the way of the head and (far nut) of the nut is open, until
    /// past the outside; side nut, dovetail, clocking key: how far the slot reaches from `at`.
    double headOutMm = 0, nutOutMm = 0;
};

/// "dowel", "screw", "stud", "key", "dovetail", "draw bolt", "clocking key".
const char* kindName(JointForm::Kind kind);
/// By that name; none when there is no such kind.
std::optional<JointForm::Kind> kindFromName(std::string_view name);
inline constexpr std::array allJointKinds{
    JointForm::Kind::Dowel,    JointForm::Kind::Screw,    JointForm::Kind::Stud,       JointForm::Kind::Key,
    JointForm::Kind::Dovetail, JointForm::Kind::DrawBolt, JointForm::Kind::ClockingKey};

/// Whether a slot or a groove in the face leads its way out along `angle`: dovetail, clocking key.
bool liesAlongFace(const JointForm& form);
/// Whether it takes away some of the outside: those, and draw bolts.
bool opensOutside(const JointForm& form);
/// Whether it is put in when its pieces are together, so that it asks for no way of theirs: draw bolt, clocking key.
bool goesInLast(const JointForm& form);

/// A printed dowel.
JointForm dowelForm(mesh::Vec2 at, double diameterMm, double depthMm, bool keyed = false, double angle = 0);

/// Which row of the fit table a joint goes by: a bolt's bores and a dovetail are fitted as keys are.
FitProcess fitProcessOf(const JointForm& form);

/// How many loose parts a joint has to print: none for what is grown on a piece or bought.
std::size_t printedPartCount(const JointForm& form);

/// The number and the mating mark recessed into both faces of a seam.
struct Mark {
    std::size_t seam = 0;
    mesh::Vec2 at{0, 0}; ///< middle of the text
    double angle = 0;    ///< radians; the text's own x axis in the plane's frame, seen from above the plane
    double heightMm = 0; ///< of the capitals
    double strokeMm = 0;
    double depthMm = 0;
    std::string textBelow; ///< sunk in the piece below the plane
    std::string textAbove;
};

/// A witness line: a shallow groove of V section straight across a seam on the outside, cut from both pieces, so that a
/// maker sees whether they stand at their designed angle. Shape: core/witness_shape.h.
struct Witness {
    /// A place on the skin, and the way into the material there, square to the line; unit. Part's frame.
    struct Station {
        mesh::Vec3 at, in;
    };
    std::size_t seam = 0;
    double widthMm = 0, depthMm = 0; ///< at the skin; of the bottom below it
    std::vector<Station> stations;   ///< from its end on the piece below to its end on the piece above, 2 or more
    std::size_t crossing = 0;        ///< the station in the cut's plane
};

/// What a seam got, in words for the report.
struct SeamReport {
    std::size_t seam = 0;
    std::string
        text; ///< "2 dowels of 8 mm, 71 mm apart: ..." or "plain butt face, glue: no room for a 4 mm dowel, ..."
    bool butt = false;
    double roomMm = 0; ///< largest radius (dowel and wall) that would have gone in, when none did
};

/// A joint placed by hand that breaks a rule.
struct JointFault {
    std::size_t joint = 0;   ///< index into the joints
    std::string text;        ///< what is wrong, with numbers, and what would help
    bool impossible = false; ///< it can't be made so at all (off its face, through the skin, into another bore)
};

struct JointLayout {
    std::vector<Joint> joints;
    std::vector<Mark> marks;
    std::vector<Witness> witnesses;
    std::vector<SeamReport> reports; ///< one a seam, in their order
    std::vector<JointFault> faults;  ///< of joints placed by hand; what is chosen has none
};

struct JointOptions {
    bool wanted = true; ///< false: marks only
    /// The same kind on every face that nothing else is wished for; none: what suits each.
    std::optional<JointForm::Kind> kind;
    double wallMm = 2.4;                       ///< least wall around a bore (common practice: three lines of 0.8 mm)
    Clearances clearances;                     ///< from the fit table, when nothing else is wished on a face
    double chordMm = mesh::tolerance::chordMm; ///< see Joint
    bool marks = true;
    bool witness = false; ///< a witness line across every seam that has a place for one
    bool clocked = false; ///< a clocking key beside every screw and stud that is chosen
    friend bool operator==(const JointOptions&, const JointOptions&) = default;
};

} // namespace quoin::core
