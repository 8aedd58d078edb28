// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/model_readers.h"
#include "mesh/polygon_soup.h"
#include "mesh/text_scan.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <limits>

namespace quoin::mesh {

namespace {

using namespace std::string_view_literals;

constexpr std::size_t linesBetweenLooks = 1 << 13;

/// Statements of the format that make no flat face, and are passed over (Wavefront, "Object Files (.obj)", version 3.0;
/// the curved surfaces are remarked on).
constexpr std::array ignored = {"vt"sv,       "vn"sv,     "s"sv,          "mg"sv,       "l"sv,     "p"sv,
                                "mtllib"sv,   "usemtl"sv, "maplib"sv,     "usemap"sv,   "bevel"sv, "c_interp"sv,
                                "d_interp"sv, "lod"sv,    "shadow_obj"sv, "trace_obj"sv};
constexpr std::array curved = {"vp"sv,    "cstype"sv, "deg"sv,  "bmat"sv,  "step"sv, "curv"sv,
                               "curv2"sv, "surf"sv,   "parm"sv, "trim"sv,  "hole"sv, "scrv"sv,
                               "sp"sv,    "end"sv,    "con"sv,  "ctech"sv, "stech"sv};

template <class List>
bool contains(const List& list, std::string_view word)
{
    return std::find(list.begin(), list.end(), word) != list.end();
}

class Obj {
public:
    Obj(std::string_view text, const Context& context)
        : m_scan(text, '#', true), m_bytes(text.size()), m_context(context)
    {
    }

    Status read()
    {
        do {
            const std::string_view keyword = m_scan.wordOnLine();
            Status done = Done{};
            if (keyword == "v")
                done = readPoint();
            else if (keyword == "f" || keyword == "fo")
                done = readFace();
            else if (keyword == "o" || keyword == "g")
                readName();
            else if (!keyword.empty())
                done = passOver(keyword);
            if (!done)
                return done;
            if (++m_lines % linesBetweenLooks == 0) {
                if (m_context.cancelled())
                    return readingCancelled();
                m_context.report(static_cast<double>(m_scan.offset()) / static_cast<double>(m_bytes), "reading");
            }
        } while (m_scan.nextLine());
        return checkForwardCorners();
    }
    PolygonSoup soup;
    std::vector<std::string> names;
    std::size_t curvedStatements = 0;

private:
    Problem malformed(const std::string& what) const
    {
        return Problem{Reason::FileMalformed, what, "", placeOfLine(m_scan.line()), "Export the model again."};
    }

    Status readPoint()
    {
        std::array<double, 3> at{};
        for (double& value : at) {
            const std::string_view word = m_scan.wordOnLine();
            const NumberKind kind = word.empty() ? NumberKind::NotANumber : parseNumber(word, value);
            if (kind != NumberKind::Finite)
                return badNumber(word, kind, placeOfLine(m_scan.line()));
        }
        if (soup.points.size() == std::numeric_limits<Index>::max())
            return Problem{Reason::FileTooLarge, "the file holds more points than can be counted", "",
                           placeOfLine(m_scan.line()), "Reduce the model first."};
        // What may follow is a weight, for curves only, or a colour.
        soup.points.push_back({at[0], at[1], at[2]});
        return Done{};
    }

    /// v, v/vt, v//vn or v/vt/vn: the point's number, from 1 on, or from -1 back from the newest.
    Result<Index> readCorner(std::string_view word)
    {
        const std::string_view number = word.substr(0, word.find('/'));
        const std::optional<std::int64_t> index = parseInteger(number);
        const auto newest = static_cast<std::int64_t>(soup.points.size());
        if (!index)
            return malformed(fmt::format("\"{}\" is no corner of a face", shown(word)));
        for (std::string_view rest = word.substr(number.size()); !rest.empty();) {
            rest.remove_prefix(1);
            const std::string_view other = rest.substr(0, rest.find('/'));
            if (!other.empty() && !parseInteger(other))
                return malformed(fmt::format("\"{}\" is no corner of a face", shown(word)));
            rest.remove_prefix(other.size());
        }
        const std::int64_t place = *index > 0 ? *index - 1 : newest + *index;
        if (*index == 0 || place < 0 || place >= std::numeric_limits<Index>::max())
            return malformed(
                fmt::format("a face names point {}, but {} points stand before it, counted from 1", *index, newest));
        if (place >= newest && place > m_farthest) {
            m_farthest = place;
            m_farthestLine = m_scan.line();
        }
        return static_cast<Index>(place);
    }

    Status readFace()
    {
        const std::size_t before = soup.corners.size();
        for (;;) {
            const std::string_view word = m_scan.wordOnLine();
            if (word.empty())
                break;
            const Result<Index> corner = readCorner(word);
            if (!corner)
                return corner.problem();
            soup.corners.push_back(*corner);
        }
        const std::size_t corners = soup.corners.size() - before;
        if (corners < 3)
            return malformed(fmt::format("a face has {} corners, fewer than three", corners));
        soup.sizes.push_back(static_cast<std::uint32_t>(corners));
        return Done{};
    }

    void readName()
    {
        TextScan ahead = m_scan;
        const std::string name(ahead.restOfLine());
        if (!name.empty() && name != "default" && std::find(names.begin(), names.end(), name) == names.end() &&
            names.size() < mostNames)
            names.push_back(name);
    }

    Status passOver(std::string_view keyword)
    {
        if (contains(curved, keyword)) {
            ++curvedStatements;
            return Done{};
        }
        if (contains(ignored, keyword))
            return Done{};
        return malformed(fmt::format("\"{}\" begins no statement of the format", shown(keyword)));
    }

    /// Some writers put the faces first: their numbers are checked when all points are known.
    Status checkForwardCorners() const
    {
        if (m_farthest < static_cast<std::int64_t>(soup.points.size()))
            return Done{};
        return Problem{
            Reason::FileMalformed,
            fmt::format("a face names point {}, but the file holds {} points", m_farthest + 1, soup.points.size()), "",
            placeOfLine(m_farthestLine), "Export the model again."};
    }

    static constexpr std::size_t mostNames = 1000;

    TextScan m_scan;
    std::size_t m_bytes;
    const Context& m_context;
    std::size_t m_lines = 0;
    std::int64_t m_farthest = -1;
    std::size_t m_farthestLine = 0;
};

} // namespace

Result<Model> readObj(std::string_view text, double millimetres, const Context& context)
{
    Obj obj(text, context);
    if (const Status read = obj.read(); !read)
        return read.problem();
    Result<Model> model = modelFrom(std::move(obj.soup), Format::Obj, millimetres, context);
    if (!model)
        return model;
    model->names = std::move(obj.names);
    if (obj.curvedStatements > 0)
        model->notes.push_back(
            {Note::Severity::Warning, "the file also holds curves or curved surfaces, which were left out", ""});
    return model;
}

} // namespace quoin::mesh
