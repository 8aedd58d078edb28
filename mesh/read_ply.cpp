// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/model_readers.h"
#include "mesh/ply_body.h"
#include "mesh/ply_header.h"
#include "mesh/polygon_soup.h"

#include <cmath>
#include <limits>

namespace quoin::mesh {

namespace {

constexpr std::size_t elementsBetweenLooks = 1 << 14;

std::string ordinal(const PlyElement& element, std::uint64_t i)
{
    return element.name + " " + std::to_string(i + 1) + " of " + std::to_string(element.count);
}

Problem malformed(const std::string& what, const std::string& place)
{
    return Problem{Reason::FileMalformed, what, "", place, "Export the model again."};
}

const PlyElement* findElement(const PlyHeader& header, std::string_view name)
{
    for (const PlyElement& element : header.elements)
        if (element.name == name)
            return &element;
    return nullptr;
}

/// Reads the elements that make a surface; passes over the others.
class PlySurface {
public:
    PlySurface(const PlyHeader& header, PlyBody& body, const Context& context)
        : m_header(header),
          m_body(body),
          m_context(context),
          m_vertices(findElement(header, "vertex")),
          m_faces(findElement(header, "face"))
    {
    }

    Status read()
    {
        if (m_vertices == nullptr)
            return malformed("the header names no \"vertex\" element", "header");
        if (m_faces == nullptr)
            return Problem{Reason::FileEmpty, "the file holds points but no faces", "", "header",
                           "Export a surface, not points only."};
        int wanted = 2;
        for (const PlyElement& element : m_header.elements) {
            if (element.count > m_body.room(element))
                return Problem{Reason::FileTruncated,
                               "the header announces " + std::to_string(element.count) + " of \"" + element.name +
                                   "\", more than the file holds",
                               "", "header", "Export or copy it again."};
            const bool isVertex = &element == m_vertices, isFace = &element == m_faces;
            const Status done = isVertex ? readVertices() : isFace ? readFaces() : skipElements(element);
            if (!done)
                return done;
            wanted -= isVertex || isFace;
            if (wanted == 0)
                break; // what follows makes no surface
        }
        return Done{};
    }
    PolygonSoup soup;
    std::size_t smallFaces = 0; ///< faces of fewer than three corners, left out

private:
    /// Looked at every few thousand elements.
    bool cancelledAt(std::uint64_t i)
    {
        if (i % elementsBetweenLooks != 0)
            return false;
        m_context.report(m_body.fractionRead(), "reading");
        return m_context.cancelled();
    }

    Status readVertices()
    {
        const PlyElement& element = *m_vertices;
        const std::array<int, 3> axis{element.find("x"), element.find("y"), element.find("z")};
        for (const int a : axis)
            if (a < 0 || element.properties[static_cast<std::size_t>(a)].isList)
                return malformed("the vertices need the properties x, y and z", "header");
        if (element.count > std::numeric_limits<Index>::max())
            return Problem{Reason::FileTooLarge, "the file holds more points than can be counted", "", "header",
                           "Reduce the model first."};
        soup.points.resize(static_cast<std::size_t>(element.count));
        for (std::uint64_t i = 0; i < element.count; ++i) {
            std::array<double, 3> at{};
            for (std::size_t k = 0; k < element.properties.size(); ++k) {
                const PlyProperty& property = element.properties[k];
                const int place = static_cast<int>(k);
                if (place == axis[0] || place == axis[1] || place == axis[2])
                    at[place == axis[0] ? 0 : place == axis[1] ? 1 : 2] = m_body.next(property.type);
                else
                    m_body.skip(property);
            }
            if (m_body.failed())
                return m_body.problem(ordinal(element, i));
            // A value that is not finite comes as NaN, and the sum keeps it.
            if (std::isnan(at[0] + at[1] + at[2]) && (std::isnan(at[0]) || std::isnan(at[1]) || std::isnan(at[2])))
                return Problem{Reason::NumberNotFinite, "a coordinate is not a number (NaN or infinite)", "",
                               m_body.place(ordinal(element, i)),
                               "Repair the model where it was made, then export it again."};
            soup.points[static_cast<std::size_t>(i)] = {at[0], at[1], at[2]};
            if (cancelledAt(i))
                return readingCancelled();
        }
        return Done{};
    }

    Status readFaces()
    {
        const PlyElement& element = *m_faces;
        int list = element.find("vertex_indices");
        if (list < 0)
            list = element.find("vertex_index");
        if (list < 0 || !element.properties[static_cast<std::size_t>(list)].isList ||
            !isWhole(element.properties[static_cast<std::size_t>(list)].type))
            return malformed("the faces need a list property vertex_indices of whole numbers", "header");
        int label = element.find("label");
        if (label >= 0 && (element.properties[static_cast<std::size_t>(label)].isList ||
                           !isWhole(element.properties[static_cast<std::size_t>(label)].type)))
            label = -1; // someone else's label
        soup.sizes.reserve(static_cast<std::size_t>(element.count));
        soup.corners.reserve(3 * static_cast<std::size_t>(element.count));
        for (std::uint64_t i = 0; i < element.count; ++i) {
            if (const Status done = readFace(element, i, list, label); !done)
                return done;
            if (cancelledAt(i))
                return readingCancelled();
        }
        return Done{};
    }

    Status readFace(const PlyElement& element, std::uint64_t i, int list, int label)
    {
        std::uint64_t corners = 0;
        double labelValue = 0;
        for (std::size_t k = 0; k < element.properties.size(); ++k) {
            const PlyProperty& property = element.properties[k];
            if (static_cast<int>(k) == list) {
                corners = m_body.listLength(property);
                for (std::uint64_t c = 0; c < corners; ++c) {
                    const double index = m_body.next(property.type);
                    if (m_body.failed())
                        return m_body.problem(ordinal(element, i));
                    if (index < 0 || index >= static_cast<double>(m_vertices->count))
                        return malformed("a face names point " + std::to_string(static_cast<std::int64_t>(index)) +
                                             ", but there are points 0 to " +
                                             std::to_string(static_cast<std::int64_t>(m_vertices->count) - 1) + " only",
                                         m_body.place(ordinal(element, i)));
                    soup.corners.push_back(static_cast<Index>(index));
                }
            } else if (static_cast<int>(k) == label) {
                labelValue = m_body.next(property.type);
            } else {
                m_body.skip(property);
            }
        }
        if (m_body.failed())
            return m_body.problem(ordinal(element, i));
        if (corners < 3) {
            ++smallFaces;
            soup.corners.resize(soup.corners.size() - static_cast<std::size_t>(corners));
            return Done{};
        }
        soup.sizes.push_back(static_cast<std::uint32_t>(corners));
        if (label >= 0) // written as int: the upper half of the labels comes back negative
            soup.labels.push_back(static_cast<Label>(static_cast<std::int64_t>(labelValue)));
        return Done{};
    }

    Status skipElements(const PlyElement& element)
    {
        if (element.properties.empty())
            return Done{};
        for (std::uint64_t i = 0; i < element.count; ++i) {
            for (const PlyProperty& property : element.properties)
                m_body.skip(property);
            if (m_body.failed())
                return m_body.problem(ordinal(element, i));
            if (cancelledAt(i))
                return readingCancelled();
        }
        return Done{};
    }

    const PlyHeader& m_header;
    PlyBody& m_body;
    const Context& m_context;
    const PlyElement* m_vertices;
    const PlyElement* m_faces;
};

} // namespace

Result<Model> readPly(std::string_view bytes, double millimetres, const Context& context)
{
    const Result<PlyHeader> header = readPlyHeader(bytes);
    if (!header)
        return header.problem();
    PlyBody body(bytes, *header);
    PlySurface surface(*header, body, context);
    if (const Status read = surface.read(); !read)
        return read.problem();
    Result<Model> model = modelFrom(std::move(surface.soup), Format::Ply, millimetres, context);
    if (model && surface.smallFaces > 0)
        model->notes.push_back(
            {Note::Severity::Warning,
             std::to_string(surface.smallFaces) + " faces with fewer than three corners were left out", ""});
    return model;
}

} // namespace quoin::mesh
