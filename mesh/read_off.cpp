// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/model_readers.h"
#include "mesh/polygon_soup.h"
#include "mesh/text_scan.h"

#include <fmt/format.h>

#include <array>
#include <limits>

namespace quoin::mesh {

namespace {

constexpr std::size_t elementsBetweenLooks = 1 << 13;

Problem malformed(const std::string& what, const TextScan& scan)
{
    return Problem{Reason::FileMalformed, what, "", placeOfLine(scan.line()), "Export the model again."};
}

Problem endsInside(const std::string& what, const TextScan& scan)
{
    return Problem{Reason::FileTruncated, "the file ends inside " + what, "", placeOfLine(scan.line()),
                   "Export or copy it again."};
}

/// Reads [ST][C][N][4][n]OFF as the manual of Geomview lists it ("OFF: object file format"). A point is a line: its
/// coordinates come first, then its normal, colour and texture place, which are passed over.
class Off {
public:
    Off(std::string_view text, const Context& context) : m_scan(text, '#'), m_bytes(text.size()), m_context(context) {}

    Status read()
    {
        if (const Status done = readHeader(); !done)
            return done;
        if (const Status done = readPoints(); !done)
            return done;
        return readFaces();
    }
    PolygonSoup soup;
    std::size_t smallFaces = 0;

private:
    Result<std::uint64_t> count(const std::string& ofWhat)
    {
        const std::string_view word = m_scan.word();
        if (word.empty())
            return endsInside("its header", m_scan);
        const std::optional<std::int64_t> value = parseInteger(word);
        if (!value || *value < 0)
            return malformed(fmt::format("\"{}\" is no number of {}", shown(word), ofWhat), m_scan);
        // An element takes two bytes at the very least: bounds what is reserved by the size of the file.
        if (static_cast<std::uint64_t>(*value) > m_bytes / 2 + 1)
            return Problem{Reason::FileTruncated,
                           fmt::format("the header announces {} {}, more than the file holds", *value, ofWhat), "",
                           placeOfLine(m_scan.line()), "Export or copy it again."};
        return static_cast<std::uint64_t>(*value);
    }

    Status readHeader()
    {
        const std::string_view keyword = m_scan.word();
        const std::string_view prefix = keyword.substr(0, keyword.size() - 3);
        if (prefix.find('4') != prefix.npos || prefix.find('n') != prefix.npos)
            return Problem{Reason::FileMalformed,
                           fmt::format("\"{}\" has points of more than three dimensions", shown(keyword)), "",
                           placeOfLine(m_scan.line()), "Export the model in three dimensions."};
        TextScan ahead = m_scan;
        if (ahead.word() == "BINARY")
            return Problem{Reason::FileMalformed, "binary OFF is not read here", "", placeOfLine(m_scan.line()),
                           "Export it as text OFF, STL or PLY."};
        const Result<std::uint64_t> points = count("points");
        if (!points)
            return points.problem();
        const Result<std::uint64_t> faces = count("faces");
        if (!faces)
            return faces.problem();
        m_points = *points;
        m_faces = *faces;
        // The number of edges is third; some writers leave it out. It is used for nothing.
        const std::string_view edges = m_scan.wordOnLine();
        if (!edges.empty() && !parseInteger(edges))
            return malformed(fmt::format("\"{}\" is no number of edges", shown(edges)), m_scan);
        m_scan.nextLine();
        return Done{};
    }

    bool cancelledAt(std::uint64_t i) const
    {
        if (i % elementsBetweenLooks != 0)
            return false;
        m_context.report(static_cast<double>(m_scan.offset()) / static_cast<double>(m_bytes), "reading");
        return m_context.cancelled();
    }

    Status readPoints()
    {
        soup.points.resize(static_cast<std::size_t>(m_points));
        for (std::uint64_t i = 0; i < m_points; ++i) {
            std::array<double, 3> at{};
            for (double& value : at) {
                // The first number may stand on any line, the others stand beside it.
                const std::string_view word = &value == &at[0] ? m_scan.word() : m_scan.wordOnLine();
                if (word.empty() && m_scan.atEnd())
                    return endsInside(fmt::format("point {} of {}", i + 1, m_points), m_scan);
                const NumberKind kind = word.empty() ? NumberKind::NotANumber : parseNumber(word, value);
                if (kind != NumberKind::Finite)
                    return badNumber(word, kind,
                                     fmt::format("point {} of {}, line {}", i + 1, m_points, m_scan.line()));
            }
            m_scan.nextLine();
            soup.points[static_cast<std::size_t>(i)] = {at[0], at[1], at[2]};
            if (cancelledAt(i))
                return readingCancelled();
        }
        return Done{};
    }

    Status readFaces()
    {
        soup.sizes.reserve(static_cast<std::size_t>(m_faces));
        soup.corners.reserve(3 * static_cast<std::size_t>(m_faces));
        for (std::uint64_t i = 0; i < m_faces; ++i) {
            if (const Status done = readFace(i); !done)
                return done;
            if (cancelledAt(i))
                return readingCancelled();
        }
        return Done{};
    }

    Status readFace(std::uint64_t i)
    {
        const std::string reading = fmt::format("face {} of {}", i + 1, m_faces);
        std::string_view word = m_scan.word();
        if (word.empty())
            return endsInside(reading, m_scan);
        const std::optional<std::int64_t> corners = parseInteger(word);
        if (!corners || *corners < 0)
            return malformed(fmt::format("\"{}\" is no number of corners", shown(word)), m_scan);
        const std::size_t before = soup.corners.size();
        for (std::int64_t k = 0; k < *corners; ++k) {
            word = m_scan.word();
            if (word.empty())
                return endsInside(reading, m_scan);
            const std::optional<std::int64_t> index = parseInteger(word);
            if (!index || *index < 0 || static_cast<std::uint64_t>(*index) >= m_points)
                return malformed(fmt::format("{} names point \"{}\", but there are {} points, counted from 0", reading,
                                             shown(word), m_points),
                                 m_scan);
            soup.corners.push_back(static_cast<Index>(*index));
        }
        m_scan.nextLine(); // a colour may follow
        if (*corners < 3) {
            ++smallFaces;
            soup.corners.resize(before);
        } else {
            soup.sizes.push_back(static_cast<std::uint32_t>(*corners));
        }
        return Done{};
    }

    TextScan m_scan;
    std::size_t m_bytes;
    const Context& m_context;
    std::uint64_t m_points = 0;
    std::uint64_t m_faces = 0;
};

} // namespace

Result<Model> readOff(std::string_view text, double millimetres, const Context& context)
{
    Off off(text, context);
    if (const Status read = off.read(); !read)
        return read.problem();
    Result<Model> model = modelFrom(std::move(off.soup), Format::Off, millimetres, context);
    if (model && off.smallFaces > 0)
        model->notes.push_back({Note::Severity::Warning,
                                fmt::format("{} faces with fewer than three corners were left out", off.smallFaces),
                                ""});
    return model;
}

} // namespace quoin::mesh
