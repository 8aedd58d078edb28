// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/round_fit.h"

#include <Eigen/Dense>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace quoin::ui {

using mesh::Index;
using mesh::Mesh;
using mesh::Vec3;

namespace {

using Matrix = Eigen::MatrixXd;
using Vector = Eigen::VectorXd;

/// Facets whose normals spread less than this (share of the greatest eigenvalue) are flat.
constexpr double leastSpread = 1e-4;
/// More facets than this say little new about five numbers, and a click must not take long.
constexpr std::size_t mostFacets = 500;
constexpr int newtonSteps = 30;
/// A step that lessens the residual by a smaller share is the last.
constexpr double settledShare = 1e-6;
/// Largest radius against the size of the patch: beyond it the arc is too flat to tell.
constexpr double mostFlatness = 50;

Eigen::Vector3d eigen(Vec3 v)
{
    return {v.x, v.y, v.z};
}
Vec3 plain(const Eigen::Vector3d& v)
{
    return {v.x(), v.y(), v.z()};
}

std::vector<Vec3> cornersOf(const Mesh& mesh, const std::vector<Index>& triangles)
{
    std::vector<Index> corners;
    corners.reserve(3 * triangles.size());
    for (const Index t : triangles)
        corners.insert(corners.end(), mesh.triangles[t].begin(), mesh.triangles[t].end());
    std::sort(corners.begin(), corners.end());
    corners.erase(std::unique(corners.begin(), corners.end()), corners.end());
    std::vector<Vec3> points;
    for (const Index corner : corners)
        points.push_back(mesh.points[corner]);
    return points;
}

/// Eigenvectors of the area-weighted sum of n n^T, least eigenvalue first.
Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> normalSpread(const Mesh& mesh, const std::vector<Index>& triangles)
{
    Eigen::Matrix3d sum = Eigen::Matrix3d::Zero();
    for (const Index t : triangles) {
        const Vec3 a = mesh.corner(t, 0), n = cross(mesh.corner(t, 1) - a, mesh.corner(t, 2) - a);
        if (length(n) > 0)
            sum += eigen(n) * eigen(n).transpose() / length(n);
    }
    return Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d>(sum);
}

Eigen::Vector3d meanOf(const std::vector<Vec3>& points)
{
    Eigen::Vector3d sum = Eigen::Vector3d::Zero();
    for (const Vec3 p : points)
        sum += eigen(p);
    return sum / static_cast<double>(points.size());
}

double extentOf(const std::vector<Vec3>& points)
{
    mesh::Box3 box;
    for (const Vec3 p : points)
        box.add(p);
    return length(box.extents());
}

/// An axis as a point (moved only across the axis) and two slopes against a fixed frame.
struct AxisState {
    Eigen::Vector3d base, u, v, w;
    Vector x = Vector::Zero(5); ///< shift along u and v, slope along u and v, radius

    Eigen::Vector3d point() const { return base + x[0] * u + x[1] * v; }
    Eigen::Vector3d axis() const { return (w + x[2] * u + x[3] * v).normalized(); }
    double distance(const Eigen::Vector3d& p) const
    {
        const Eigen::Vector3d d = p - point(), a = axis();
        return (d - d.dot(a) * a).norm();
    }
};

/// Circle across the axis by Kasa's linear fit; false when the points don't tell.
bool startCircle(AxisState& s, const std::vector<Vec3>& points)
{
    Matrix a(points.size(), 3);
    Vector b(points.size());
    for (std::size_t i = 0; i < points.size(); ++i) {
        const Eigen::Vector3d d = eigen(points[i]) - s.base;
        const double x = d.dot(s.u), y = d.dot(s.v);
        const auto row = static_cast<Eigen::Index>(i);
        a.row(row) << 2 * x, 2 * y, 1;
        b[row] = x * x + y * y;
    }
    const Vector c = a.colPivHouseholderQr().solve(b);
    const double squared = c[2] + c[0] * c[0] + c[1] * c[1];
    if (!c.allFinite() || !(squared > 0))
        return false;
    s.x << c[0], c[1], 0, 0, std::sqrt(squared);
    return true;
}

/// Gauss and Newton's steps on distance - radius; slopes by differences.
double refine(AxisState& s, const std::vector<Vec3>& points, double extent)
{
    const auto rows = static_cast<Eigen::Index>(points.size());
    const auto residuals = [&](const AxisState& at) {
        Vector r(rows);
        for (Eigen::Index i = 0; i < rows; ++i)
            r[i] = at.distance(eigen(points[static_cast<std::size_t>(i)])) - at.x[4];
        return r;
    };
    Vector r = residuals(s);
    const Vector scale = (Vector(5) << extent, extent, 1, 1, extent).finished();
    for (int step = 0; step < newtonSteps; ++step) {
        Matrix j(rows, 5);
        for (int k = 0; k < 5; ++k) {
            constexpr double small = 1e-6;
            AxisState ahead = s, back = s;
            ahead.x[k] += small * scale[k];
            back.x[k] -= small * scale[k];
            j.col(k) = (residuals(ahead) - residuals(back)) / (2 * small);
        }
        const Vector move = j.colPivHouseholderQr().solve(-r);
        AxisState next = s;
        next.x += move.cwiseProduct(scale);
        const Vector after = residuals(next);
        if (!after.allFinite() || after.norm() >= r.norm())
            break;
        const bool settled = after.norm() > (1 - settledShare) * r.norm();
        s = next;
        r = after;
        if (settled)
            break;
    }
    return std::sqrt(r.squaredNorm() / static_cast<double>(rows));
}

/// 2 pi less the widest gap between the directions of the points round the axis.
double arcOf(const std::vector<Vec3>& points, const Eigen::Vector3d& centre, const AxisState& s)
{
    std::vector<double> angles;
    for (const Vec3 p : points)
        angles.push_back(std::atan2((eigen(p) - centre).dot(s.v), (eigen(p) - centre).dot(s.u)));
    std::sort(angles.begin(), angles.end());
    double gap = 2 * std::numbers::pi - (angles.back() - angles.front());
    for (std::size_t i = 1; i < angles.size(); ++i)
        gap = std::max(gap, angles[i] - angles[i - 1]);
    // A closed round of n sides has gaps of one side, which are covered.
    return gap < 2 * creaseRadians ? 2 * std::numbers::pi : 2 * std::numbers::pi - gap;
}

/// Whether the facets look towards the centre or axis.
bool looksInwards(const Mesh& mesh, const std::vector<Index>& triangles, const RoundFit& fit)
{
    double outwards = 0;
    for (const Index t : triangles) {
        const Vec3 a = mesh.corner(t, 0), b = mesh.corner(t, 1), c = mesh.corner(t, 2);
        Vec3 away = (a + b + c) / 3.0 - fit.centre;
        if (fit.kind == RoundFit::Kind::Cylinder)
            away = away - dot(away, fit.axis) * fit.axis;
        outwards += dot(cross(b - a, c - a), normalized(away));
    }
    return outwards < 0;
}

bool isRound(const std::optional<RoundFit>& fit)
{
    return fit && fit->residualMm <= std::max(roundResidualMm, roundResidualShare * fit->radiusMm);
}

/// The better of the two, through facets taken evenly from the first `count` of a patch.
std::optional<RoundFit> bestThrough(const Mesh& mesh, const std::vector<Index>& patch, std::size_t count)
{
    std::vector<Index> some;
    for (std::size_t i = 0; i < count; i += count / mostFacets + 1)
        some.push_back(patch[i]);
    auto cylinder = cylinderThrough(mesh, some);
    // A ball is taken only where it does clearly better: a short piece of a cylinder is nearly one, too.
    constexpr double clearly = 0.3;
    auto ball = ballThrough(mesh, some);
    for (auto* fit : {&cylinder, &ball})
        if (*fit)
            (*fit)->facets = count;
    if (isRound(ball) && (!isRound(cylinder) || ball->residualMm < clearly * cylinder->residualMm))
        return ball;
    return isRound(cylinder) ? cylinder : std::nullopt;
}

/// Distance of a place from the fitted surface, mm.
double offSurface(const RoundFit& fit, Vec3 p)
{
    Vec3 d = p - fit.centre;
    if (fit.kind == RoundFit::Kind::Cylinder)
        d = d - dot(d, fit.axis) * fit.axis;
    return std::abs(length(d) - fit.radiusMm);
}

} // namespace

std::optional<RoundFit> cylinderThrough(const Mesh& mesh, const std::vector<Index>& triangles)
{
    const auto points = cornersOf(mesh, triangles);
    if (points.size() < 5)
        return std::nullopt;
    const auto spread = normalSpread(mesh, triangles);
    if (!(spread.eigenvalues()[1] > leastSpread * spread.eigenvalues()[2]))
        return std::nullopt;
    AxisState s{meanOf(points), spread.eigenvectors().col(1), spread.eigenvectors().col(2),
                spread.eigenvectors().col(0)};
    const double extent = extentOf(points);
    if (!startCircle(s, points))
        return std::nullopt;
    RoundFit fit;
    fit.residualMm = refine(s, points, extent);
    fit.axis = plain(s.axis());
    fit.radiusMm = s.x[4];
    const Eigen::Vector3d centre = s.point() + (s.base - s.point()).dot(s.axis()) * s.axis();
    fit.centre = plain(centre);
    fit.facets = triangles.size();
    if (!(fit.radiusMm > 0) || fit.radiusMm > mostFlatness * extent)
        return std::nullopt;
    fit.arcRadians = arcOf(points, centre, s);
    fit.hollow = looksInwards(mesh, triangles, fit);
    return fit;
}

std::optional<RoundFit> ballThrough(const Mesh& mesh, const std::vector<Index>& triangles)
{
    const auto points = cornersOf(mesh, triangles);
    const auto spread = normalSpread(mesh, triangles);
    if (points.size() < 6 || !(spread.eigenvalues()[0] > leastSpread * spread.eigenvalues()[2]))
        return std::nullopt;
    const Eigen::Vector3d mean = meanOf(points);
    const auto rows = static_cast<Eigen::Index>(points.size());
    Matrix a(rows, 4);
    Vector b(rows);
    for (Eigen::Index i = 0; i < rows; ++i) {
        const Eigen::Vector3d d = eigen(points[static_cast<std::size_t>(i)]) - mean;
        a.row(i) << 2 * d.transpose(), 1;
        b[i] = d.squaredNorm();
    }
    const Vector c = a.colPivHouseholderQr().solve(b);
    const double squared = c[3] + c.head<3>().squaredNorm();
    if (!c.allFinite() || !(squared > 0))
        return std::nullopt;
    RoundFit fit;
    fit.kind = RoundFit::Kind::Ball;
    fit.centre = plain(mean + c.head<3>());
    fit.radiusMm = std::sqrt(squared);
    if (fit.radiusMm > mostFlatness * extentOf(points))
        return std::nullopt;
    double sum = 0;
    for (const Vec3 p : points)
        sum += std::pow(length(p - fit.centre) - fit.radiusMm, 2);
    fit.residualMm = std::sqrt(sum / static_cast<double>(points.size()));
    fit.facets = triangles.size();
    fit.hollow = looksInwards(mesh, triangles, fit);
    return fit;
}

std::optional<RoundFit> roundAt(const Mesh& mesh, const SurfaceNeighbours& neighbours, Index triangle)
{
    constexpr std::size_t firstPatch = 6, growth = 2, largestPatch = 50000;
    const auto patch = smoothPatch(mesh, neighbours, triangle, creaseRadians, largestPatch);
    std::optional<RoundFit> best;
    for (std::size_t count = std::min(firstPatch, patch.size());; count = std::min(count * growth, patch.size())) {
        const auto fit = bestThrough(mesh, patch, count);
        if (fit)
            best = fit;
        else if (best)
            break;
        if (count == patch.size())
            break;
    }
    if (!best)
        return std::nullopt;
    // All of the patch that lies on it, whatever else the patch runs into.
    const double reachMm = std::max(roundResidualMm, std::max(3 * best->residualMm, 0.005 * best->radiusMm));
    std::vector<Index> on;
    for (const Index t : patch)
        if (std::max({offSurface(*best, mesh.corner(t, 0)), offSurface(*best, mesh.corner(t, 1)),
                      offSurface(*best, mesh.corner(t, 2))}) <= reachMm)
            on.push_back(t);
    const auto refitted = bestThrough(mesh, on, on.size());
    return refitted && refitted->facets >= best->facets ? refitted : best;
}

} // namespace quoin::ui
