// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/model_readers.h"
#include "mesh/threemf_check.h"
#include "mesh/threemf_library.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <limits>
#include <unordered_map>

namespace quoin::mesh {

namespace {

using namespace NMR;
using threemf::Calls;
using threemf::Handle;

/// A few components can stand for very many triangles; the bound keeps that to what a computer holds.
constexpr std::uint64_t mostTriangles = 100'000'000;
constexpr std::uint64_t mostInstances = 1'000'000;
constexpr int deepestNesting = 200;
constexpr DWORD mostWarnings = 10;

Problem refused(const Calls& calls)
{
    return Problem{Reason::FileMalformed, "the 3MF library refuses the file: " + calls.message(), "", "",
                   "Export the model again."};
}

Unit unitOf(DWORD unit)
{
    switch (unit) {
    case MODELUNIT_MICROMETER:
        return Unit::Micron;
    case MODELUNIT_CENTIMETER:
        return Unit::Centimetre;
    case MODELUNIT_INCH:
        return Unit::Inch;
    case MODELUNIT_FOOT:
        return Unit::Foot;
    case MODELUNIT_METER:
        return Unit::Metre;
    default:
        return Unit::Millimetre;
    }
}

bool progress(int percent, ProgressIdentifier, void* context)
{
    const Context& job = *static_cast<const Context*>(context);
    if (percent >= 0)
        job.report(percent / 100.0, "reading");
    return !job.cancelled();
}

/// What one object of the file comes to when all its components are counted out.
struct Extent {
    std::uint64_t triangles = 0;
    std::uint64_t instances = 0;
};

/// Walks the build items of a read file and gathers their triangles.
class Build {
public:
    Build(const Handle& library, Calls& calls, const Context& context)
        : m_library(library), m_calls(calls), m_context(context)
    {
    }

    Status gather()
    {
        DWORD unit = MODELUNIT_MILLIMETER;
        if (!m_calls.ok(lib3mf_model_getunit(m_library.get(), &unit), m_library))
            return refused(m_calls);
        model.unit = unitOf(unit);
        model.format = Format::ThreeMf;
        const Transform toMillimetres = Transform::scaling(millimetresIn(model.unit));
        Extent whole;
        const Status measured = eachItem([&](const Handle& item, const Handle& object) -> Status {
            (void)item;
            const Result<Extent> extent = measure(object, 0);
            if (!extent)
                return extent.problem();
            whole.triangles += extent->triangles;
            whole.instances += extent->instances;
            return withinBounds(whole);
        });
        if (!measured)
            return measured;
        model.mesh.triangles.reserve(static_cast<std::size_t>(whole.triangles));
        const Status gathered = eachItem([&](const Handle& item, const Handle& object) -> Status {
            Transform placement;
            BOOL placed = 0;
            MODELTRANSFORM matrix{};
            if (!m_calls.ok(lib3mf_builditem_hasobjecttransform(item.get(), &placed), item))
                return refused(m_calls);
            if (placed && m_calls.ok(lib3mf_builditem_getobjecttransform(item.get(), &matrix), item))
                placement = threemf::fromLibrary(matrix);
            return add(object, toMillimetres * placement);
        });
        if (!gathered)
            return gathered;
        noteLeftOut();
        return Done{};
    }
    Model model;

private:
    using ItemVisitor = std::function<Status(const Handle& item, const Handle& object)>;

    Status eachItem(const ItemVisitor& visit)
    {
        Handle items;
        if (!m_calls.ok(lib3mf_model_getbuilditems(m_library.get(), items.out()), m_library))
            return refused(m_calls);
        for (;;) {
            BOOL more = 0;
            if (!m_calls.ok(lib3mf_builditemiterator_movenext(items.get(), &more), items))
                return refused(m_calls);
            if (!more)
                return Done{};
            Handle item, object;
            if (!m_calls.ok(lib3mf_builditemiterator_getcurrent(items.get(), item.out()), items) ||
                !m_calls.ok(lib3mf_builditem_getobjectresource(item.get(), object.out()), item))
                return refused(m_calls);
            if (const Status visited = visit(item, object); !visited)
                return visited;
        }
    }

    static Status withinBounds(const Extent& extent)
    {
        if (extent.triangles > mostTriangles || extent.instances > mostInstances)
            return Problem{Reason::FileTooLarge, "its components come to more triangles than can be held", "", "",
                           "Reduce the number of copies in the build."};
        return Done{};
    }

    DWORD idOf(const Handle& object)
    {
        DWORD id = 0;
        m_calls.ok(lib3mf_resource_getresourceid(object.get(), &id), object);
        return id;
    }

    /// Kinds that are no part of the model: other (3MF core 4.1: never built) and both kinds of support.
    bool isLeftOut(const Handle& object)
    {
        DWORD type = MODELOBJECTTYPE_MODEL;
        m_calls.ok(lib3mf_object_gettype(object.get(), &type), object);
        return type == MODELOBJECTTYPE_OTHER || type == MODELOBJECTTYPE_SUPPORT || type == MODELOBJECTTYPE_SOLIDSUPPORT;
    }

    bool isMesh(const Handle& object)
    {
        BOOL mesh = 0;
        m_calls.ok(lib3mf_object_ismeshobject(object.get(), &mesh), object);
        return mesh != 0;
    }

    /// Calls visit(component's object, its transform) for each component.
    Status eachComponent(const Handle& object, const std::function<Status(const Handle&, const Transform&)>& visit)
    {
        DWORD count = 0;
        if (!m_calls.ok(lib3mf_componentsobject_getcomponentcount(object.get(), &count), object))
            return refused(m_calls);
        for (DWORD i = 0; i < count; ++i) {
            Handle component, part;
            MODELTRANSFORM matrix{};
            BOOL placed = 0;
            if (!m_calls.ok(lib3mf_componentsobject_getcomponent(object.get(), i, component.out()), object) ||
                !m_calls.ok(lib3mf_component_getobjectresource(component.get(), part.out()), component) ||
                !m_calls.ok(lib3mf_component_hastransform(component.get(), &placed), component) ||
                (placed && !m_calls.ok(lib3mf_component_gettransform(component.get(), &matrix), component)))
                return refused(m_calls);
            if (const Status done = visit(part, placed ? threemf::fromLibrary(matrix) : Transform{}); !done)
                return done;
        }
        return Done{};
    }

    /// Counted once an object, so that a tree of shared components costs no more than its objects.
    Result<Extent> measure(const Handle& object, int depth)
    {
        const DWORD id = idOf(object);
        if (const auto known = m_extents.find(id); known != m_extents.end())
            return known->second;
        if (depth > deepestNesting)
            return Problem{Reason::FileTooLarge, "its components are nested too deep", "", "", "Flatten the model."};
        Extent extent{0, 1};
        if (isLeftOut(object)) {
            // nothing
        } else if (isMesh(object)) {
            DWORD count = 0;
            m_calls.ok(lib3mf_meshobject_gettrianglecount(object.get(), &count), object);
            extent.triangles = count;
        } else {
            const Status done = eachComponent(object, [&](const Handle& part, const Transform&) -> Status {
                const Result<Extent> inner = measure(part, depth + 1);
                if (!inner)
                    return inner.problem();
                extent.triangles += inner->triangles;
                extent.instances += inner->instances;
                return withinBounds(extent);
            });
            if (!done)
                return done.problem();
        }
        if (m_calls.failed())
            return refused(m_calls);
        m_extents.emplace(id, extent);
        return extent;
    }

    Status add(const Handle& object, const Transform& placement)
    {
        if (m_context.cancelled())
            return readingCancelled();
        if (isLeftOut(object)) {
            ++m_leftOut;
            return Done{};
        }
        addName(object);
        if (isMesh(object))
            return addMesh(object, placement);
        return eachComponent(object,
                             [&](const Handle& part, const Transform& map) { return add(part, placement * map); });
    }

    void addName(const Handle& object)
    {
        ULONG needed = 0;
        if (lib3mf_object_getnameutf8(object.get(), nullptr, 0, &needed) != LIB3MF_OK || needed == 0)
            return;
        std::string name(needed + 1, '\0');
        if (lib3mf_object_getnameutf8(object.get(), name.data(), static_cast<ULONG>(name.size()), &needed) != LIB3MF_OK)
            return;
        name.resize(name.find('\0'));
        if (!name.empty() && std::find(model.names.begin(), model.names.end(), name) == model.names.end())
            model.names.push_back(std::move(name));
    }

    Status addMesh(const Handle& object, const Transform& placement)
    {
        DWORD vertexCount = 0, triangleCount = 0, beams = 0;
        if (!m_calls.ok(lib3mf_meshobject_getvertexcount(object.get(), &vertexCount), object) ||
            !m_calls.ok(lib3mf_meshobject_gettrianglecount(object.get(), &triangleCount), object))
            return refused(m_calls);
        if (lib3mf_meshobject_getbeamcount(object.get(), &beams) == LIB3MF_OK && beams > 0)
            m_beams += beams;
        Buffer<MODELMESHVERTEX> vertices(vertexCount);
        Buffer<MODELMESHTRIANGLE> triangles(triangleCount);
        // The library takes an empty buffer for a mistake.
        if ((vertexCount > 0 &&
             !m_calls.ok(lib3mf_meshobject_getvertices(object.get(), vertices.data(), vertexCount, nullptr), object)) ||
            (triangleCount > 0 &&
             !m_calls.ok(lib3mf_meshobject_gettriangleindices(object.get(), triangles.data(), triangleCount, nullptr),
                         object)))
            return refused(m_calls);
        return append(vertices, triangles, placement);
    }

    Status append(const Buffer<MODELMESHVERTEX>& vertices, const Buffer<MODELMESHTRIANGLE>& triangles,
                  const Transform& placement)
    {
        const std::size_t first = model.mesh.points.size();
        if (first + vertices.size() > std::numeric_limits<Index>::max())
            return withinBounds({mostTriangles + 1, 0});
        for (const MODELMESHVERTEX& v : vertices) {
            const Vec3 p =
                placement.point({double{v.m_fPosition[0]}, double{v.m_fPosition[1]}, double{v.m_fPosition[2]}});
            if (!std::isfinite(p.x) || !std::isfinite(p.y) || !std::isfinite(p.z))
                return Problem{Reason::NumberNotFinite, "a coordinate is not a number (NaN or infinite)", "",
                               fmt::format("vertex {} of an object", &v - vertices.data()),
                               "Repair the model where it was made, then export it again."};
            model.mesh.points.push_back(p);
        }
        const bool mirrors = placement.determinant() < 0;
        for (const MODELMESHTRIANGLE& t : triangles) {
            Triangle corners{};
            for (std::size_t k = 0; k < 3; ++k) {
                if (t.m_nIndices[k] >= vertices.size())
                    return Problem{Reason::FileMalformed, fmt::format("a triangle names vertex {}", t.m_nIndices[k]),
                                   "", "", "Export the model again."};
                corners[k] = static_cast<Index>(first + t.m_nIndices[k]);
            }
            if (mirrors)
                std::swap(corners[1], corners[2]); // outside stays outside (3MF core 3.3)
            model.mesh.triangles.push_back(corners);
        }
        return Done{};
    }

    void noteLeftOut()
    {
        if (m_leftOut > 0)
            model.notes.push_back(
                {Note::Severity::Info,
                 fmt::format("{} objects that are supports or of type \"other\" were left out", m_leftOut), ""});
        if (m_beams > 0)
            model.notes.push_back(
                {Note::Severity::Warning, fmt::format("{} beams of a lattice were left out", m_beams), ""});
    }

    const Handle& m_library;
    Calls& m_calls;
    const Context& m_context;
    std::unordered_map<DWORD, Extent> m_extents;
    std::size_t m_leftOut = 0;
    std::size_t m_beams = 0;
};

void addWarnings(const Handle& reader, Model& model)
{
    DWORD count = 0;
    if (lib3mf_reader_getwarningcount(reader.get(), &count) != LIB3MF_OK)
        return;
    for (DWORD i = 0; i < std::min(count, mostWarnings); ++i) {
        DWORD code = 0;
        ULONG needed = 0;
        std::array<char, 512> text{};
        if (lib3mf_reader_getwarningutf8(reader.get(), i, &code, text.data(), static_cast<ULONG>(text.size()),
                                         &needed) == LIB3MF_OK)
            model.notes.push_back({Note::Severity::Warning, fmt::format("the 3MF library warns: {}", text.data()), ""});
    }
    if (count > mostWarnings)
        model.notes.push_back(
            {Note::Severity::Warning, fmt::format("the 3MF library warns of {} more", count - mostWarnings), ""});
}

} // namespace

Result<Model> read3mf(std::string_view bytes, const Context& context)
{
    if (const Status checked = checkThreeMf(bytes, context); !checked)
        return checked.problem();
    Calls calls;
    Handle library, reader;
    if (!calls.ok(lib3mf_createmodel(library.out()), library) ||
        !calls.ok(lib3mf_model_queryreader(library.get(), MODELREADERCLASS_3MF, reader.out()), library))
        return refused(calls);
    // The callback takes no const; progress() gives it back.
    lib3mf_reader_setprogresscallback(reader.get(), progress, const_cast<Context*>(&context));
    // The library reads only, in spite of the type.
    auto* data = reinterpret_cast<BYTE*>(const_cast<char*>(bytes.data()));
    const bool read = calls.ok(lib3mf_reader_readfrombuffer(reader.get(), data, bytes.size()), reader);
    if (context.cancelled())
        return readingCancelled();
    if (!read)
        return refused(calls);
    Build build(library, calls, context);
    if (const Status gathered = build.gather(); !gathered)
        return gathered.problem();
    addWarnings(reader, build.model);
    if (build.model.mesh.empty())
        return Problem{Reason::FileEmpty, "the build holds no triangles", "", "", "Export the model again."};
    const std::size_t before = build.model.mesh.triangles.size();
    build.model.mesh = welded(build.model.mesh);
    build.model.droppedTriangles = before - build.model.mesh.triangles.size();
    return std::move(build.model);
}

} // namespace quoin::mesh
