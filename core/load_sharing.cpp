// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/load_sharing.h"

#include <Eigen/SparseCholesky>
#include <Eigen/SparseCore>

#include <algorithm>
#include <array>
#include <cmath>

namespace quoin::core {

using mesh::Vec3;

namespace {

using Matrix6 = Eigen::Matrix<double, 6, 6>;
using Vector6 = Eigen::Matrix<double, 6, 1>;

/// Poisson's ratio of printed plastics, about (common practice, no source); only the ratio of the two stiffnesses of a
/// bed depends on it.
constexpr double poisson = 0.35;
constexpr double alongShare = 1 / (2 * (1 + poisson));

Eigen::Vector3d eigen(Vec3 v)
{
    return {v.x, v.y, v.z};
}

Vec3 vec(const Eigen::Vector3d& v)
{
    return {v.x(), v.y(), v.z()};
}

/// All lengths are divided by the size of the whole, so that turns and shifts are of one order.
struct Scale {
    Vec3 middle{0, 0, 0};
    double mm = 1;
};

Scale scaleOf(const std::vector<SharingFace>& faces)
{
    Scale scale;
    mesh::Box3 box;
    for (const SharingFace& f : faces)
        box.add(f.frame.space(f.section.centroid));
    scale.middle = 0.5 * (box.min + box.max);
    double area = 0;
    for (const SharingFace& f : faces)
        area = std::max(area, f.section.areaMm2);
    scale.mm = std::max({length(box.max - box.min), std::sqrt(area), 1e-6});
    return scale;
}

/// Stiffness of a face for a shift (u, v, normal) and a turn (about the same) of the piece above against the one below,
/// at its centroid; lengths over `mm`.
Matrix6 localStiffness(const SharingFace& face, double mm)
{
    const double l2 = mm * mm, l4 = l2 * l2;
    const SectionProperties& s = face.section;
    Matrix6 k = Matrix6::Zero();
    k(0, 0) = k(1, 1) = alongShare * s.areaMm2 / l2;
    k(2, 2) = s.areaMm2 / l2;
    k(3, 3) = s.iuMm4 / l4;
    k(4, 4) = s.ivMm4 / l4;
    k(3, 4) = k(4, 3) = -s.iuvMm4 / l4;
    k(5, 5) = alongShare * s.polarMm4() / l4;
    return face.stiffness * k;
}

/// From a piece's shift at the middle of the whole and its turn, to both in a face's frame at its centroid.
Matrix6 toFace(const SharingFace& face, const Scale& scale)
{
    Eigen::Matrix3d axes;
    axes.row(0) = eigen(face.frame.u);
    axes.row(1) = eigen(face.frame.v);
    axes.row(2) = eigen(face.frame.normal);
    const Vec3 r = 1 / scale.mm * (face.frame.space(face.section.centroid) - scale.middle);
    Eigen::Matrix3d arm; // turn x r = -[r]x turn
    arm << 0, r.z, -r.y, -r.z, 0, r.x, r.y, -r.x, 0;
    Matrix6 t = Matrix6::Zero();
    t.topLeftCorner<3, 3>() = axes;
    t.topRightCorner<3, 3>() = axes * arm;
    t.bottomRightCorner<3, 3>() = axes;
    return t;
}

Vector6 loadOn(const SharingPiece& piece, const Scale& scale)
{
    Vec3 force{0, 0, 0}, moment{0, 0, 0};
    for (const PointLoad& load : piece.loads) {
        force = force + load.forceN;
        moment = moment + 1 / scale.mm * cross(load.at - scale.middle, load.forceN);
    }
    Vector6 out;
    out << eigen(force), eigen(moment);
    return out;
}

/// The unknowns of each piece, or -1 for a fixed one.
std::vector<int> numbered(const std::vector<SharingPiece>& pieces, int& count)
{
    std::vector<int> first;
    for (const SharingPiece& p : pieces) {
        first.push_back(p.fixed ? -1 : count);
        count += p.fixed ? 0 : 6;
    }
    return first;
}

void addBlock(std::vector<Eigen::Triplet<double>>& entries, int row, int column, const Matrix6& block)
{
    if (row < 0 || column < 0)
        return;
    for (int i = 0; i < 6; ++i)
        for (int j = 0; j < 6; ++j)
            if (block(i, j) != 0)
                entries.emplace_back(row + i, column + j, block(i, j));
}

} // namespace

std::vector<PointLoad> FaceResultant::asLoads(Vec3 centroid, double sign) const
{
    std::vector<PointLoad> loads{{centroid, sign * forceN}};
    const double moment = length(momentNmm);
    if (!(moment > 0))
        return loads;
    // A couple: two forces at arms of 1 mm to either side, square to the moment.
    const Vec3 axis = 1 / moment * momentNmm;
    const Vec3 other = std::abs(axis.x) < 0.6 ? Vec3{1, 0, 0} : Vec3{0, 1, 0};
    const Vec3 arm = normalized(cross(axis, other)), force = sign * 0.5 * moment * cross(axis, arm);
    loads.push_back({centroid + arm, force});
    loads.push_back({centroid - arm, -force});
    return loads;
}

std::optional<std::vector<FaceResultant>> sharedLoads(const std::vector<SharingPiece>& pieces,
                                                      const std::vector<SharingFace>& faces)
{
    if (faces.empty())
        return std::vector<FaceResultant>{};
    const Scale scale = scaleOf(faces);
    int unknowns = 0;
    const std::vector<int> first = numbered(pieces, unknowns);
    std::vector<Eigen::Triplet<double>> entries;
    for (const SharingFace& f : faces) {
        const Matrix6 t = toFace(f, scale);
        const Matrix6 k = t.transpose() * localStiffness(f, scale.mm) * t;
        addBlock(entries, first[f.below], first[f.below], k);
        addBlock(entries, first[f.above], first[f.above], k);
        addBlock(entries, first[f.below], first[f.above], -k);
        addBlock(entries, first[f.above], first[f.below], -k);
    }
    Eigen::VectorXd moved = Eigen::VectorXd::Zero(unknowns), loads = moved;
    for (std::size_t i = 0; i < pieces.size(); ++i)
        if (first[i] >= 0)
            loads.segment<6>(first[i]) = loadOn(pieces[i], scale);
    if (unknowns > 0) {
        Eigen::SparseMatrix<double> stiffness(unknowns, unknowns);
        stiffness.setFromTriplets(entries.begin(), entries.end());
        const Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> solver(stiffness);
        if (solver.info() != Eigen::Success)
            return std::nullopt;
        moved = solver.solve(loads);
        // Once more with what is left over: beds of very different size cost digits.
        moved += solver.solve(loads - stiffness * moved);
        constexpr double balance = 1e-6;
        if (!moved.allFinite() || (stiffness * moved - loads).norm() > balance * std::max(loads.norm(), 1e-12))
            return std::nullopt;
    }
    std::vector<FaceResultant> out;
    for (const SharingFace& f : faces) {
        const auto of = [&](std::size_t piece) -> Vector6 {
            return first[piece] < 0 ? Vector6(Vector6::Zero()) : Vector6(moved.segment<6>(first[piece]));
        };
        const Matrix6 t = toFace(f, scale);
        // The beds pull the piece below after the one above.
        const Vector6 local = localStiffness(f, scale.mm) * (t * (of(f.above) - of(f.below)));
        const Vector6 whole = (Vector6() << t.topLeftCorner<3, 3>().transpose() * local.head<3>(),
                               t.topLeftCorner<3, 3>().transpose() * local.tail<3>())
                                  .finished();
        out.push_back({vec(whole.head<3>()), scale.mm * vec(whole.tail<3>())});
    }
    return out;
}

} // namespace quoin::core
