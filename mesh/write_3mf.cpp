// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/atomic_file.h"
#include "mesh/threemf_library.h"
#include "mesh/write_check.h"
#include "mesh/write_model.h"

#include <limits>

namespace quoin::mesh {

namespace {

using namespace NMR;
using threemf::Calls;
using threemf::Handle;

Problem refused(const std::filesystem::path& file, const Calls& calls)
{
    return Problem{Reason::FileUnwritable, "the 3MF library refuses the model: " + calls.message(), file.string(), "",
                   "Repair the model, or write STL."};
}

bool addObject(const Handle& model, const NamedMesh& object, Calls& calls)
{
    Buffer<MODELMESHVERTEX> vertices(object.mesh->points.size());
    for (std::size_t i = 0; i < vertices.size(); ++i) {
        const Vec3 p = object.mesh->points[i];
        vertices[i] = {{static_cast<float>(p.x), static_cast<float>(p.y), static_cast<float>(p.z)}};
    }
    Buffer<MODELMESHTRIANGLE> triangles(object.mesh->triangles.size());
    for (std::size_t i = 0; i < triangles.size(); ++i) {
        const Triangle& t = object.mesh->triangles[i];
        triangles[i] = {{t[0], t[1], t[2]}};
    }
    Handle mesh, item;
    MODELTRANSFORM placement = threemf::toLibrary(object.placement);
    return calls.ok(lib3mf_model_addmeshobject(model.get(), mesh.out()), model) &&
           calls.ok(lib3mf_object_setnameutf8(mesh.get(), object.name.c_str()), mesh) &&
           calls.ok(lib3mf_meshobject_setgeometry(mesh.get(), vertices.data(), static_cast<DWORD>(vertices.size()),
                                                  triangles.data(), static_cast<DWORD>(triangles.size())),
                    mesh) &&
           calls.ok(lib3mf_model_addbuilditem(model.get(), mesh.get(), &placement, item.out()), model);
}

} // namespace

Status write3mf(const std::filesystem::path& file, const std::vector<NamedMesh>& objects)
{
    if (objects.empty())
        return Problem{Reason::BadArgument, "there are no objects to write", file.string(), "", ""};
    for (const NamedMesh& object : objects)
        if (Status checked = checkWritable(file, *object.mesh, std::numeric_limits<float>::max()); !checked)
            return checked;
    Calls calls;
    Handle model, writer;
    bool ok = calls.ok(lib3mf_createmodel(model.out()), model) &&
              calls.ok(lib3mf_model_setunit(model.get(), MODELUNIT_MILLIMETER), model);
    for (const NamedMesh& object : objects)
        ok = ok && addObject(model, object, calls);
    ULONG64 size = 0;
    ok = ok && calls.ok(lib3mf_model_querywriter(model.get(), MODELWRITERCLASS_3MF, writer.out()), model) &&
         calls.ok(lib3mf_writer_getstreamsize(writer.get(), &size), writer);
    if (!ok)
        return refused(file, calls);
    // Through memory, so that one place of ours does all writing and a file name of any encoding will do.
    std::string bytes(size, '\0');
    if (!calls.ok(lib3mf_writer_writetobuffer(writer.get(), reinterpret_cast<BYTE*>(bytes.data()), size), writer))
        return refused(file, calls);
    return writeAtomically(file, bytes);
}

} // namespace quoin::mesh
