// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/transform.h"
#include "mesh/vec3.h"

#include <array>
#include <cstdint>
#include <memory>
#include <new>
#include <vector>

namespace quoin::mesh {

/// Memory for large buffers, asked of the system in huge pages where it has them: a first touch of each small page
/// costs more than the copy of a mesh itself. Throws std::bad_alloc.
void* allocateLarge(std::size_t bytes);
void releaseLarge(void* memory, std::size_t bytes) noexcept;
inline constexpr std::size_t largeBytes = std::size_t{1} << 22;

/// An allocator whose resize() leaves trivial elements uninitialised: a million points are written once, not zeroed
/// first.
template <class T>
struct DefaultInitAllocator {
    using value_type = T;
    DefaultInitAllocator() = default;
    template <class U>
    DefaultInitAllocator(const DefaultInitAllocator<U>&)
    {
    }
    T* allocate(std::size_t n)
    {
        if (n > static_cast<std::size_t>(-1) / sizeof(T))
            throw std::bad_array_new_length();
        const std::size_t bytes = n * sizeof(T);
        return static_cast<T*>(bytes >= largeBytes ? allocateLarge(bytes) : ::operator new(bytes));
    }
    void deallocate(T* p, std::size_t n) noexcept
    {
        if (n * sizeof(T) >= largeBytes)
            releaseLarge(p, n * sizeof(T));
        else
            ::operator delete(p);
    }
    friend bool operator==(const DefaultInitAllocator&, const DefaultInitAllocator&) { return true; }
    template <class U>
    void construct(U* p)
    {
        ::new (static_cast<void*>(p)) U;
    }
    template <class U, class... Args>
    void construct(U* p, Args&&... args)
    {
        ::new (static_cast<void*>(p)) U(std::forward<Args>(args)...);
    }
};

template <class T>
using Buffer = std::vector<T, DefaultInitAllocator<T>>;

using Index = std::uint32_t;
using Triangle = std::array<Index, 3>;
using Label = std::uint32_t;

/// The label of the model's own surface; a face made by node n of a cut plan carries n + 1.
inline constexpr Label skinLabel = 0;

/// Indexed triangles, counter-clockwise seen from outside, millimetres, double precision. A plain value: once made
/// it is passed as const (or by shared_ptr to const) and never changed behind a reader's back.
struct Mesh {
    Buffer<Vec3> points;
    Buffer<Triangle> triangles;
    /// Empty (all skin), or one a triangle.
    Buffer<Label> labels;

    bool empty() const { return triangles.empty(); }
    Label label(std::size_t triangle) const { return labels.empty() ? skinLabel : labels[triangle]; }
    Vec3 corner(std::size_t triangle, int k) const { return points[triangles[triangle][static_cast<std::size_t>(k)]]; }
};

using MeshPtr = std::shared_ptr<const Mesh>;

/// Bounds of the points that triangles use; empty box for an empty mesh.
Box3 bounds(const Mesh& mesh);

/// The mesh under an affine map; faces are turned over when the map mirrors, so that outside stays outside.
Mesh transformed(const Mesh& mesh, const Transform& map);

/// Both meshes in one, without welding. Labels are kept.
Mesh joined(const Mesh& a, const Mesh& b);

/// The named triangles as a mesh of their own, points renumbered in order of first use. Labels are kept.
Mesh subset(const Mesh& mesh, const std::vector<Index>& triangles);

/// Points with exactly equal coordinates made one (-0 equals 0), triangles with two equal corners dropped,
/// unused points dropped. Labels are kept.
Mesh welded(const Mesh& mesh);

} // namespace quoin::mesh
