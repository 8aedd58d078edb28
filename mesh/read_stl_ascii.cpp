// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/model_readers.h"
#include "mesh/point_index.h"
#include "mesh/text_scan.h"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <limits>

namespace quoin::mesh {

namespace {

constexpr std::size_t facetsBetweenLooks = 1 << 12;
/// Bytes of the shortest facet that is of use: bounds what is reserved before anything was read.
constexpr std::size_t leastFacetBytes = 80;
/// A stored normal is called wrong when it is more than 60 degrees off.
constexpr double wrongNormalCos = 0.5;

bool sameWord(std::string_view word, std::string_view lower)
{
    if (word.size() != lower.size())
        return false;
    for (std::size_t i = 0; i < word.size(); ++i)
        if ((word[i] >= 'A' && word[i] <= 'Z' ? word[i] + ('a' - 'A') : word[i]) != lower[i])
            return false;
    return true;
}

/// Reads solids of facets. The words may stand on any line; only the name of a solid is told from what follows by its
/// line.
class AsciiStl {
public:
    AsciiStl(std::string_view text, double scale, const Context& context)
        : m_scan(text),
          m_bytes(text.size()),
          m_scale(scale),
          m_context(context),
          m_index(text.size() / leastFacetBytes / 2)
    {
        m_model.format = Format::StlAscii;
    }

    Status read()
    {
        for (std::string_view word = m_scan.word(); !word.empty(); word = m_scan.word()) {
            Status done = Done{};
            if (sameWord(word, "facet"))
                done = readFacet();
            else if (sameWord(word, "solid"))
                beginSolid();
            else if (sameWord(word, "endsolid"))
                endSolid();
            else
                return unexpected("facet", word);
            if (!done)
                return done;
            if (m_facets % facetsBetweenLooks == 0 && m_context.cancelled())
                return readingCancelled();
        }
        if (m_facets == 0)
            return Problem{Reason::FileEmpty, "the file holds no facets", "", placeOfLine(m_scan.line()),
                           "Export the model again."};
        if (m_inSolid)
            note(Note::Severity::Warning, "the last line, endsolid, is missing; the file may have been cut off");
        if (m_outside > 0)
            note(Note::Severity::Info, fmt::format("{} facets stand outside any solid; they were read", m_outside));
        if (m_uselessNormals > 0)
            note(Note::Severity::Info,
                 fmt::format("{} stored normals are missing or no numbers; the corners count", m_uselessNormals));
        if (m_wrongNormals > 0)
            note(Note::Severity::Info,
                 fmt::format("{} stored normals disagree with the order of the corners; the corners count",
                             m_wrongNormals));
        return Done{};
    }
    Model takeModel() { return std::move(m_model); }

private:
    void note(Note::Severity severity, std::string text) { m_model.notes.push_back({severity, std::move(text), ""}); }

    Problem unexpected(std::string_view wanted, std::string_view found) const
    {
        if (found.empty())
            return Problem{Reason::FileTruncated,
                           fmt::format("the file ends inside facet {}, before \"{}\"", m_facets + 1, wanted), "",
                           placeOfLine(m_scan.line()), "Export or copy it again."};
        return Problem{Reason::FileMalformed, fmt::format("\"{}\" stands where \"{}\" must be", shown(found), wanted),
                       "", fmt::format("facet {}, line {}", m_facets + 1, m_scan.line()), "Export the model again."};
    }

    /// The name is the rest of the line, or up to the first facet if that stands on the same line.
    void beginSolid()
    {
        std::string name;
        for (TextScan ahead = m_scan;;) {
            const std::string_view word = ahead.wordOnLine();
            TextScan afterWord = ahead;
            if (word.empty() || (sameWord(word, "facet") && sameWord(afterWord.wordOnLine(), "normal")))
                break;
            if (!name.empty())
                name += ' ';
            name += word;
            m_scan = ahead;
        }
        if (!name.empty())
            m_model.names.push_back(std::move(name));
        m_inSolid = true;
    }
    void endSolid()
    {
        m_scan.restOfLine();
        m_inSolid = false;
    }

    Status expect(std::string_view wanted)
    {
        const std::string_view word = m_scan.word();
        if (!sameWord(word, wanted))
            return unexpected(wanted, word);
        return Done{};
    }

    /// The words after "facet", up to "outer". The normal is recomputed anyway, so that none or NaN is no fault; a word
    /// that is neither is one.
    Status readNormal(Vec3& normal)
    {
        if (const Status word = expect("normal"); !word)
            return word;
        std::array<double, 3> n{};
        std::size_t count = 0;
        bool finite = true;
        std::string_view word = m_scan.word();
        for (; !sameWord(word, "outer"); word = m_scan.word()) {
            double value = 0;
            const NumberKind kind = parseNumber(word, value);
            if (word.empty() || kind == NumberKind::NotANumber || count == 3)
                return unexpected("outer", word);
            finite = finite && kind == NumberKind::Finite;
            n[count++] = value;
        }
        const bool useful = finite && count == 3;
        m_uselessNormals += !useful;
        normal = useful ? Vec3{n[0], n[1], n[2]} : Vec3{0, 0, 0};
        return expect("loop");
    }

    Status readCorner(Vec3& corner)
    {
        std::array<double, 3> at{};
        for (double& value : at) {
            const std::string_view word = m_scan.word();
            const NumberKind kind = word.empty() ? NumberKind::NotANumber : parseNumber(word, value);
            value *= m_scale;
            if (word.empty())
                return unexpected("vertex", word);
            if (kind != NumberKind::Finite || !std::isfinite(value))
                return badNumber(word, kind == NumberKind::Finite ? NumberKind::NotFinite : kind,
                                 fmt::format("facet {}, line {}", m_facets + 1, m_scan.line()));
        }
        corner = {at[0], at[1], at[2]};
        return Done{};
    }

    Status readFacet()
    {
        Vec3 normal{0, 0, 0};
        if (const Status done = readNormal(normal); !done)
            return done;
        std::array<Vec3, 3> corners{};
        for (std::size_t k = 0; k < 3; ++k) {
            const std::string_view word = m_scan.word();
            if (sameWord(word, "endloop"))
                return wrongCornerCount(std::to_string(k));
            if (!sameWord(word, "vertex"))
                return unexpected("vertex", word);
            if (const Status done = readCorner(corners[k]); !done)
                return done;
        }
        const std::string_view word = m_scan.word();
        if (sameWord(word, "vertex"))
            return wrongCornerCount("more than three");
        if (!sameWord(word, "endloop"))
            return unexpected("endloop", word);
        if (const Status done = expect("endfacet"); !done)
            return done;
        return add(normal, corners);
    }

    Problem wrongCornerCount(const std::string& count) const
    {
        return Problem{Reason::FileMalformed, "a facet has " + count + " corners instead of three", "",
                       fmt::format("facet {}, line {}", m_facets + 1, m_scan.line()),
                       "Export the model again as triangles."};
    }

    Status add(Vec3 normal, const std::array<Vec3, 3>& c)
    {
        if (m_facets % facetsBetweenLooks == 0)
            m_context.report(static_cast<double>(m_scan.offset()) / static_cast<double>(m_bytes), "reading");
        ++m_facets;
        m_outside += !m_inSolid;
        if (c[0] == c[1] || c[1] == c[2] || c[2] == c[0]) {
            ++m_model.droppedTriangles;
            return Done{};
        }
        const Vec3 turn = cross(c[1] - c[0], c[2] - c[0]);
        const double lengths = length(turn) * length(normal);
        m_wrongNormals += lengths > 0 && dot(turn, normal) < wrongNormalCos * lengths;
        if (m_model.mesh.points.size() > std::numeric_limits<Index>::max() - 3)
            return Problem{Reason::FileTooLarge, "the file holds more facets than can be counted", "", "",
                           "Reduce the model first."};
        Triangle t{};
        for (std::size_t k = 0; k < 3; ++k)
            t[k] = m_index.insert(c[k], m_model.mesh.points);
        m_model.mesh.triangles.push_back(t);
        return Done{};
    }

    TextScan m_scan;
    std::size_t m_bytes;
    double m_scale;
    const Context& m_context;
    PointIndex m_index;
    Model m_model;
    bool m_inSolid = false;
    std::size_t m_facets = 0;
    std::size_t m_outside = 0;
    std::size_t m_uselessNormals = 0;
    std::size_t m_wrongNormals = 0;
};

} // namespace

Result<Model> readStlAscii(std::string_view text, double millimetres, const Context& context)
{
    AsciiStl reader(text, millimetres, context);
    if (const Status read = reader.read(); !read)
        return read.problem();
    return reader.takeModel();
}

} // namespace quoin::mesh
