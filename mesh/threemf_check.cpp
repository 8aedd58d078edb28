// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/threemf_check.h"

#include "mesh/source_file.h"
#include "mesh/text_scan.h"
#include "mesh/xml_tags.h"
#include "mesh/zip_archive.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>
#include <string>
#include <vector>

namespace quoin::mesh {

namespace {

using namespace std::string_view_literals;

/// Text packs well, but not better than this; more is a trap.
constexpr std::uint64_t largestPacking = 200;
constexpr std::uint64_t alwaysAllowedBytes = 64u << 20;
/// Objects that a walk over all component trees may meet, and how deep.
constexpr std::uint64_t mostVisits = 1'000'000;
constexpr int deepestNesting = 100;
constexpr std::size_t tagsBetweenLooks = 1 << 16;

bool isModelPart(std::string_view name)
{
    constexpr std::string_view extension = ".model";
    return name.size() > extension.size() && std::equal(extension.rbegin(), extension.rend(), name.rbegin(),
                                                        [](char e, char c) { return e == (c | 0x20); });
}

/// Objects and what they are made of, over all parts of the package.
class ObjectGraph {
public:
    void addObject(const std::string& key) { m_open = key; }
    void addComponent(const std::string& key) { m_components[m_open].push_back(key); }

    /// FileTooLarge when a walk down from every object would meet too many, go too deep or round in a circle.
    Status check()
    {
        std::uint64_t sum = 0;
        for (const auto& [key, unused] : m_components) {
            const std::uint64_t visits = visitsFrom(key, 0);
            if (m_tooDeep)
                return tooLarge("its components are nested too deep, or in a circle");
            sum += visits;
            if (visits > mostVisits || sum > mostVisits)
                return tooLarge("its components multiply to more than can be walked through");
        }
        return Done{};
    }

private:
    static Problem tooLarge(const std::string& what)
    {
        return Problem{Reason::FileTooLarge, what, "", "", "Flatten the model where it was made."};
    }

    std::uint64_t visitsFrom(const std::string& key, int depth)
    {
        if (const auto known = m_visits.find(key); known != m_visits.end())
            return known->second;
        m_tooDeep = m_tooDeep || depth > deepestNesting;
        std::uint64_t visits = 1;
        if (const auto parts = m_components.find(key); parts != m_components.end())
            for (const std::string& part : parts->second) {
                if (m_tooDeep || visits > mostVisits)
                    break;
                visits += visitsFrom(part, depth + 1);
            }
        m_visits.emplace(key, visits);
        return visits;
    }

    std::map<std::string, std::vector<std::string>> m_components;
    std::map<std::string, std::uint64_t> m_visits;
    std::string m_open;
    bool m_tooDeep = false;
};

/// Walks through one model part.
class ModelPart {
public:
    ModelPart(const std::string& name, std::string_view xml, ObjectGraph& graph)
        : m_name(name), m_tags(xml), m_graph(graph)
    {
    }

    Status check(const Context& context)
    {
        for (std::size_t count = 0; m_tags.next(); ++count) {
            if (count % tagsBetweenLooks == 0 && context.cancelled())
                return readingCancelled();
            const Status done = checkTag();
            if (!done)
                return done;
        }
        return Done{};
    }

private:
    Problem malformed(const std::string& what)
    {
        return {Reason::FileMalformed, what, "", place(), "Export the model again."};
    }
    std::string place() { return fmt::format("{}, line {}", m_name, m_tags.line()); }
    std::string key(std::string_view part, std::string_view id)
    {
        if (part.starts_with('/'))
            part.remove_prefix(1);
        return fmt::format("{}#{}", part, id);
    }

    Status checkTag()
    {
        const std::string_view tag = m_tags.name();
        std::string_view name, value, id, path = m_name;
        const bool isVertex = tag == "vertex", isTriangle = tag == "triangle";
        while (m_tags.attribute(name, value)) {
            Status good = Done{};
            if (isVertex && (name == "x" || name == "y" || name == "z"))
                good = checkNumbers(value, 1);
            else if (isTriangle && (name == "v1" || name == "v2" || name == "v3"))
                good = checkIndex(value);
            else if (name == "transform" && (tag == "item" || tag == "component"))
                good = checkNumbers(value, 12);
            else if (tag == "model" && name == "unit")
                good = checkUnit(value);
            else if ((tag == "object" && name == "id") || (tag == "component" && name == "objectid"))
                id = value;
            else if (tag == "component" && name == "path")
                path = value;
            if (!good)
                return good;
        }
        if (tag == "object")
            m_graph.addObject(key(path, id));
        else if (tag == "component")
            m_graph.addComponent(key(path, id));
        return Done{};
    }

    Status checkNumbers(std::string_view value, std::size_t count)
    {
        TextScan words(value);
        std::size_t found = 0;
        for (std::string_view word = words.word(); !word.empty(); word = words.word(), ++found) {
            double number = 0;
            const NumberKind kind = parseNumber(word, number);
            if (kind != NumberKind::Finite)
                return badNumber(word, kind, place());
        }
        if (found != count)
            return malformed(fmt::format("\"{}\" holds {} numbers instead of {}", shown(value), found, count));
        return Done{};
    }

    Status checkIndex(std::string_view value)
    {
        const std::optional<std::int64_t> index = parseInteger(value);
        if (!index || *index < 0)
            return malformed(fmt::format("\"{}\" is no corner of a triangle", shown(value)));
        return Done{};
    }

    Status checkUnit(std::string_view value)
    {
        // 3MF core 3.4, ST_Unit.
        constexpr std::array units = {"micron"sv, "millimeter"sv, "centimeter"sv, "inch"sv, "foot"sv, "meter"sv};
        if (std::find(units.begin(), units.end(), value) == units.end())
            return malformed(fmt::format("\"{}\" is no unit of 3MF", shown(value)));
        return Done{};
    }

    std::string m_name;
    XmlTags m_tags;
    ObjectGraph& m_graph;
};

} // namespace

Status checkThreeMf(std::string_view package, const Context& context)
{
    const Result<std::vector<ZipEntry>> entries = zipEntries(package);
    if (!entries)
        return entries.problem();
    std::uint64_t allowed = std::max<std::uint64_t>(alwaysAllowedBytes, largestPacking * package.size());
    ObjectGraph graph;
    for (const ZipEntry& entry : *entries) {
        if (context.cancelled())
            return readingCancelled();
        // Pictures and the like are unpacked too: the library does so, and a trap may be anywhere.
        const Result<std::string> content = unpacked(package, entry, allowed);
        if (!content)
            return content.problem();
        allowed -= content->size();
        if (!isModelPart(entry.name))
            continue;
        ModelPart part(entry.name, *content, graph);
        if (const Status checked = part.check(context); !checked)
            return checked;
    }
    return graph.check();
}

} // namespace quoin::mesh
