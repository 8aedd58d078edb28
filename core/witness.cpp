// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/witness.h"

#include "core/joint_dowel.h"
#include "core/mark.h"
#include "core/witness_shape.h"
#include "mesh/local_boolean.h"
#include "mesh/region.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>

namespace quoin::core {

namespace {

using mesh::Vec2;
using mesh::Vec3;

/// Length on either side as a share of the side of a square face of the same area.
constexpr double lengthShare = 0.1;
/// From one station to the next, mm.
constexpr double stepMm = 1;
/// The first look at the skin beside the seam, mm.
constexpr double firstStepMm = 0.3;
/// The skin is looked for so far outside of where it is expected, and inside, mm.
constexpr double lookMm = 2;
/// Skin turns by no more than this from one station to the next, nor lies steeper against the way there; cosines.
const double mostTurn = std::cos(25 * M_PI / 180);
constexpr double leastFacing = 0.4;
/// Beside the groove the skin may lie so many depths off, at half a width past its edge.
constexpr double besideDepths = 0.6;
/// Candidates along the outline, at most; those that are tried in full.
constexpr std::size_t mostPlaces = 96, mostTried = 8;
/// Seen from outside: free this far is as good as free, mm.
constexpr double farEnoughMm = 200;
/// Walls against letters: those are as shallow as the groove.
constexpr double letterWallMm = 1.2;
/// Two lines keep this apart, mm.
constexpr double linesApartMm = 4;

/// How far a candidate came; what fails latest is told.
enum class Reach { Nothing, Skin, Wall, Clear };

struct Candidate {
    Witness witness;
    double viewMm = 0;
};

class Places {
public:
    Places(const JointGround& ground, std::size_t seam, const std::vector<Mark>& marks,
           const std::vector<Witness>& others)
        : m_ground(ground),
          m_seam(ground.seam(seam)),
          m_index(seam),
          m_cut(ground.scene().plan.nodes[static_cast<std::size_t>(m_seam.cut)].plane),
          m_frame(mesh::frameOf(m_cut)),
          m_marks(marks),
          m_others(others)
    {
        m_lengthMm = std::clamp(lengthShare * std::sqrt(m_seam.areaMm2), shortestWitnessMm, longestWitnessMm);
    }

    WitnessPlace best()
    {
        for (double length = m_lengthMm;; length = std::max(0.75 * length, shortestWitnessMm)) {
            if (auto found = bestOf(length))
                return {std::move(found), {}};
            if (length <= shortestWitnessMm)
                break;
        }
        return {{}, why()};
    }

private:
    struct Hit {
        Vec3 at;
        Vec3 normal;
    };

    const Piece& piece(bool above) const
    {
        return m_ground.scene().pieces[static_cast<std::size_t>(above ? m_seam.pieceAbove : m_seam.pieceBelow) - 1];
    }
    const mesh::SurfaceTree& tree(bool above) const { return m_ground.scene().room.whole(piece(above).number); }

    /// The skin of a piece where it is expected: along `in` from a little outside; nothing where there is another
    /// surface, or one that looks away.
    std::optional<Hit> skin(bool above, Vec3 expected, Vec3 in) const
    {
        const Vec3 from = expected - lookMm * in;
        const auto hit = tree(above).firstHitTriangle(from, in);
        if (!hit || hit->distanceMm > 2 * lookMm)
            return {};
        const mesh::Mesh& m = piece(above).mesh;
        if (m.label(hit->triangle) != mesh::skinLabel)
            return {};
        const Vec3 a = m.corner(hit->triangle, 0);
        const Vec3 normal =
            mesh::normalized(mesh::cross(m.corner(hit->triangle, 1) - a, m.corner(hit->triangle, 2) - a));
        if (mesh::dot(normal, in) > -leastFacing)
            return {};
        return Hit{from + hit->distanceMm * in, normal};
    }

    /// Square to the line, in the plane that it lies in, into the material.
    static Vec3 inwards(Vec3 across, Vec3 along, Vec3 out)
    {
        const Vec3 in = mesh::normalized(mesh::cross(across, along));
        return mesh::dot(in, out) > 0 ? -in : in;
    }

    /// Follows the skin of one piece away from the seam; the stations after the one in the plane.
    std::vector<Vec3> followed(bool above, Vec3 start, Vec3 out, Vec3 across, double lengthMm) const
    {
        std::vector<Vec3> places;
        // The way that the skin takes from the seam: a cut may be far from square to it.
        const Vec3 off = (above ? 1.0 : -1.0) * m_cut.normal;
        const auto first = skin(above, start + firstStepMm * off, -out);
        if (!first)
            return {};
        Vec3 at = start, along = mesh::normalized(first->at - start);
        if (mesh::dot(along, off) < leastFacing)
            return {};
        const auto steps = static_cast<int>(std::ceil(lengthMm / stepMm));
        for (int k = 0; k < steps; ++k) {
            const double step = lengthMm / steps;
            const auto hit = skin(above, at + step * along, inwards(across, along, out));
            if (!hit)
                return {};
            const Vec3 went = mesh::normalized(hit->at - at);
            if (mesh::dot(went, along) < mostTurn)
                return {};
            along = went;
            at = hit->at;
            places.push_back(at);
        }
        return places;
    }

    /// Stations with their ways in: by the places before and after.
    Witness lineThrough(const std::vector<Vec3>& places, std::size_t crossing, Vec3 out, Vec3 across,
                        double lengthMm) const
    {
        Witness w;
        w.seam = m_index;
        w.widthMm = std::max(leastWitnessWidthMm, witnessWidthShare * lengthMm);
        w.depthMm = witnessDepthShare * w.widthMm;
        w.crossing = crossing;
        for (std::size_t i = 0; i < places.size(); ++i) {
            const Vec3 along =
                mesh::normalized(places[std::min(i + 1, places.size() - 1)] - places[i == 0 ? 0 : i - 1]);
            w.stations.push_back({places[i], inwards(across, along, out)});
        }
        return w;
    }

    /// Whether the skin lies level beside the groove, and is thick enough under it.
    bool levelBeside(const Witness& w, Vec3 across) const
    {
        for (std::size_t i = 0; i < w.stations.size(); ++i) {
            if (i == w.crossing)
                continue;
            const Witness::Station& s = w.stations[i];
            for (const double side : {-1.0, 1.0}) {
                const auto hit = skin(i > w.crossing, s.at + side * w.widthMm * across, s.in);
                if (!hit || std::abs(mesh::dot(hit->at - s.at, s.in)) > besideDepths * w.depthMm)
                    return false;
            }
        }
        return true;
    }
    bool thickEnough(const Witness& w, Vec3 across)
    {
        const double need = w.depthMm + underWitnessMm;
        for (std::size_t i = 0; i < w.stations.size(); ++i) {
            if (i == w.crossing)
                continue;
            const Witness::Station& s = w.stations[i];
            for (const double side : {-0.5, 0.0, 0.5}) {
                // Past the skin itself, which may lie a little lower beside the line.
                const auto through =
                    tree(i > w.crossing)
                        .firstHitTriangle(s.at + side * w.widthMm * across, s.in, besideDepths * w.depthMm);
                // Behind the seam's own face there is the other piece.
                const auto face = static_cast<mesh::Label>(m_seam.cut) + 1;
                if (!through || through->distanceMm >= need ||
                    piece(i > w.crossing).mesh.label(through->triangle) == face)
                    continue;
                m_thinMm = std::min(m_thinMm, through->distanceMm);
                return false;
            }
        }
        const Witness::Station& c = w.stations[w.crossing];
        const Vec2 edge = m_frame.flat(c.at), deep = m_frame.flat(c.at + need * c.in);
        if (mesh::contains(m_seam.region, deep) && mesh::contains(m_seam.region, 0.5 * (edge + deep)))
            return true;
        m_thinMm = std::min(m_thinMm, need);
        return false;
    }
    /// Whether joints and the mark keep their walls.
    bool clear(const Witness& w) const
    {
        for (const Witness::Station& s : w.stations)
            if (m_ground.takenGap(m_index, s.at + w.depthMm * s.in) < m_ground.options().wallMm + w.widthMm / 2)
                return false;
        for (const Witness& other : m_others)
            for (const Witness::Station& theirs : other.stations)
                for (const Witness::Station& s : w.stations)
                    if (mesh::length(theirs.at - s.at) < linesApartMm)
                        return false;
        const Vec3 bottom = w.stations[w.crossing].at + w.depthMm * w.stations[w.crossing].in;
        for (const Mark& mark : m_marks)
            if (mark.seam == m_index)
                for (const bool above : {false, true}) {
                    const mesh::PlaneFrame own = mesh::frameOf(outwardPlane(m_cut, above));
                    for (const mesh::Recess& letter : markRecesses(mark, m_cut, above))
                        if (const Vec2 p = own.flat(bottom);
                            mesh::contains(letter.levels.front().outline, p) ||
                            mesh::distanceToOutline(letter.levels.front().outline, p) < letterWallMm + w.widthMm / 2)
                            return false;
                }
        return true;
    }
    /// How far one can stand off before it and still see it.
    double view(const Witness& w) const
    {
        double free = farEnoughMm;
        for (const std::size_t i : {std::size_t{0}, w.crossing, w.stations.size() - 1})
            for (const Piece& p : m_ground.scene().pieces) {
                const Vec3 from = w.stations[i].at - lookMm / 4 * w.stations[i].in;
                if (const auto hit = m_ground.scene().room.whole(p.number).firstHit(from, -w.stations[i].in))
                    free = std::min(free, *hit);
            }
        return free;
    }

    std::optional<Candidate> at(Vec2 p, Vec2 outward, double lengthMm)
    {
        const Vec3 start = m_frame.space(p);
        const Vec3 out = mesh::normalized(outward.x * m_frame.u + outward.y * m_frame.v);
        const Vec3 across = mesh::normalized(mesh::cross(m_cut.normal, -out));
        const std::vector<Vec3> below = followed(false, start, out, across, lengthMm),
                                above = followed(true, start, out, across, lengthMm);
        if (below.empty() || above.empty())
            return {};
        std::vector<Vec3> places(below.rbegin(), below.rend());
        places.push_back(start);
        places.insert(places.end(), above.begin(), above.end());
        Witness w = lineThrough(places, below.size(), out, across, lengthMm);
        // Where the skin has a crease along the seam, the groove crosses it square to neither.
        if (!levelBeside(w, across))
            return {};
        m_reach = std::max(m_reach, Reach::Skin);
        if (!thickEnough(w, across))
            return {};
        m_reach = std::max(m_reach, Reach::Wall);
        if (!clear(w))
            return {};
        m_reach = std::max(m_reach, Reach::Clear);
        const double seen = view(w);
        return Candidate{std::move(w), seen};
    }

    bool canBeMade(const Witness& w) const
    {
        const mesh::Mesh tool = witnessTool(w);
        return std::ranges::all_of(std::array{false, true},
                                   [&](bool above) { return mesh::withoutSolid(piece(above).mesh, tool, 1).ok(); });
    }

    std::optional<Witness> bestOf(double lengthMm)
    {
        std::vector<Candidate> found;
        for (const auto& [p, outward] : outlinePlaces())
            if (auto candidate = at(p, outward, lengthMm))
                found.push_back(std::move(*candidate));
        std::ranges::stable_sort(found, std::greater{}, &Candidate::viewMm);
        for (std::size_t i = 0; i < std::min(found.size(), mostTried); ++i)
            if (canBeMade(found[i].witness))
                return std::move(found[i].witness);
        return {};
    }

    /// Places all along the outer outlines, in the middle of their edges' stretches, with the way out of the face.
    std::vector<std::pair<Vec2, Vec2>> outlinePlaces() const
    {
        double total = 0;
        const auto outer = [](const mesh::Loop& loop) { return mesh::signedArea(loop) > 0; };
        for (const mesh::Loop& loop : m_seam.region)
            if (outer(loop))
                for (std::size_t i = 0, j = loop.size() - 1; i < loop.size(); j = i++)
                    total += mesh::length(loop[i] - loop[j]);
        const double apart = total / mostPlaces;
        std::vector<std::pair<Vec2, Vec2>> places;
        for (const mesh::Loop& loop : m_seam.region) {
            if (!outer(loop))
                continue;
            double ahead = apart / 2;
            for (std::size_t i = 0, j = loop.size() - 1; i < loop.size(); j = i++) {
                const Vec2 edge = loop[i] - loop[j];
                const double l = mesh::length(edge);
                for (; ahead < l; ahead += apart)
                    places.push_back({loop[j] + (ahead / l) * edge, (1 / l) * Vec2{edge.y, -edge.x}});
                ahead -= l;
            }
        }
        return places;
    }

    std::string why() const
    {
        const double width = std::max(leastWitnessWidthMm, witnessWidthShare * shortestWitnessMm);
        switch (m_reach) {
        case Reach::Nothing:
            return fmt::format("no witness line: nowhere on its outer edge does the skin run on smoothly for {:g} mm "
                               "on both sides",
                               shortestWitnessMm);
        case Reach::Skin:
            return fmt::format("no witness line: the skin is too thin, {:.1f} mm at the thinnest place; a groove "
                               "{:g} mm deep asks for {:g} mm",
                               m_thinMm, witnessDepthShare * width, witnessDepthShare * width + underWitnessMm);
        case Reach::Wall:
            return fmt::format("no witness line: joints or the mark lie within {:g} mm of the outer edge wherever the "
                               "skin would take one",
                               m_ground.options().wallMm);
        case Reach::Clear:
            break;
        }
        return "no witness line: the skin can't be grooved where it would go; mend the model, or move the cut a little";
    }

    const JointGround& m_ground;
    const Seam& m_seam;
    std::size_t m_index;
    const mesh::Plane& m_cut;
    mesh::PlaneFrame m_frame;
    const std::vector<Mark>& m_marks;
    const std::vector<Witness>& m_others;
    double m_lengthMm = shortestWitnessMm;
    double m_thinMm = 1e300; ///< least skin that a place failed by
    Reach m_reach = Reach::Nothing;
};

} // namespace

WitnessPlace placeWitness(const JointGround& ground, std::size_t seam, const std::vector<Mark>& marks,
                          const std::vector<Witness>& others)
{
    return Places(ground, seam, marks, others).best();
}

} // namespace quoin::core
