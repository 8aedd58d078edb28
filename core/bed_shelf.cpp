// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/bed.h"

#include "mesh/atomic_file.h"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <iterator>

namespace quoin::core {

namespace {

using Json = nlohmann::ordered_json;

constexpr int fileVersion = 1;
constexpr std::string_view roundWord = "round";
constexpr std::string_view rectangularWord = "rectangular";

Problem damaged(const std::filesystem::path& file, const std::string& what, const std::string& place)
{
    return Problem{Reason::FileMalformed, what, file.string(), place,
                   "Correct the file, or move it away to start with an empty list."};
}

Json toJson(const Bed& bed)
{
    Json json{{"name", bed.name}};
    if (bed.shape == Bed::Shape::Round) {
        json["shape"] = roundWord;
        json["diameterMm"] = bed.widthMm;
    } else {
        json["shape"] = rectangularWord;
        json["widthMm"] = bed.widthMm;
        json["depthMm"] = bed.depthMm;
    }
    json["heightMm"] = bed.heightMm;
    json["machines"] = bed.machines;
    return json;
}

/// Fields are named one by one, so that a wrong one is named in the message (what it throws says which).
Bed bedFrom(const Json& json)
{
    Bed bed;
    bed.name = json.at("name").get<std::string>();
    const std::string shape = json.at("shape").get<std::string>();
    if (shape == roundWord) {
        bed.shape = Bed::Shape::Round;
        bed.widthMm = bed.depthMm = json.at("diameterMm").get<double>();
    } else if (shape == rectangularWord) {
        bed.widthMm = json.at("widthMm").get<double>();
        bed.depthMm = json.at("depthMm").get<double>();
    } else {
        throw std::invalid_argument(
            fmt::format("shape \"{}\" is neither {} nor {}", shape, rectangularWord, roundWord));
    }
    bed.heightMm = json.at("heightMm").get<double>();
    bed.machines = json.value("machines", 1);
    return bed;
}

/// What dumping to JSON accepts.
bool isUtf8(std::string_view text)
{
    try {
        return !Json(std::string(text)).dump().empty();
    } catch (const Json::type_error&) {
        return false;
    }
}

bool isName(std::string_view name)
{
    const auto isBad = [](char c) {
        return c == '*' || c == ',' || static_cast<unsigned char>(c) < ' ' || c == '\x7f';
    };
    return !name.empty() && name.front() != ' ' && name.back() != ' ' &&
           std::none_of(name.begin(), name.end(), isBad) && isUtf8(name);
}

auto findByName(std::vector<Bed>& beds, std::string_view name)
{
    return std::find_if(beds.begin(), beds.end(), [&](const Bed& b) { return b.name == name; });
}

Result<std::vector<Bed>> bedsFrom(const Json& json, const std::filesystem::path& file)
{
    if (!json.is_object() || !json.contains("version") || !json["version"].is_number_integer() ||
        !json.contains("beds") || !json["beds"].is_array())
        return damaged(file, "this is no list of beds", "");
    const int version = json["version"].get<int>();
    if (version > fileVersion)
        return Problem{
            Reason::VersionTooNew,
            fmt::format("the list of beds is of version {}, and this program knows version {}", version, fileVersion),
            file.string(), "", "Use a newer version of this program."};
    std::vector<Bed> beds;
    for (const Json& entry : json["beds"]) {
        const std::string place = fmt::format("bed {}", beds.size() + 1);
        try {
            beds.push_back(bedFrom(entry));
        } catch (const std::exception& wrong) {
            return damaged(file, fmt::format("a bed can't be read: {}", wrong.what()), place);
        }
        if (const Status good = checkBed(beds.back()); !good)
            return damaged(file, good.problem().what, place);
        if (findByName(beds, beds.back().name) != beds.end() - 1)
            return damaged(file, fmt::format("two beds are called \"{}\"", beds.back().name), place);
    }
    return beds;
}

} // namespace

std::filesystem::path BedShelf::defaultFile()
{
    // An empty or relative $XDG_CONFIG_HOME counts as not set (XDG Base Directory Specification 0.8).
    const char* config = std::getenv("XDG_CONFIG_HOME");
    if (config != nullptr && std::filesystem::path(config).is_absolute())
        return std::filesystem::path(config) / "quoin" / "beds.json";
    const char* home = std::getenv("HOME");
    return std::filesystem::path(home != nullptr ? home : ".") / ".config" / "quoin" / "beds.json";
}

Result<std::vector<Bed>> BedShelf::own() const
{
    std::error_code error;
    const auto status = std::filesystem::status(m_file, error);
    if (status.type() == std::filesystem::file_type::not_found)
        return std::vector<Bed>{};
    std::ifstream in(m_file, std::ios::binary);
    if (status.type() != std::filesystem::file_type::regular || !in)
        return Problem{Reason::FileUnreadable, "the list of beds can't be read", m_file.string(), "",
                       "Check what is at this name, and its permissions."};
    const std::string content{std::istreambuf_iterator<char>(in), {}};
    try {
        return bedsFrom(Json::parse(content), m_file);
    } catch (const Json::parse_error& wrong) {
        return damaged(m_file, "this is not JSON", fmt::format("byte {}", wrong.byte));
    } catch (const Json::exception& wrong) {
        return damaged(m_file, wrong.what(), "");
    }
}

Result<std::vector<Bed>> BedShelf::all() const
{
    Result<std::vector<Bed>> beds = own();
    if (!beds)
        return beds;
    for (Bed& bed : shippedBeds())
        if (findByName(*beds, bed.name) == beds->end())
            beds->push_back(std::move(bed));
    return beds;
}

Status BedShelf::add(const Bed& bed, bool replace) const
{
    if (!isName(bed.name))
        return Problem{Reason::BadArgument, fmt::format("\"{}\" can't be the name of a bed", bed.name), "", "",
                       "Use letters, digits and blanks between them, no * and no comma."};
    if (const Status good = checkBed(bed); !good)
        return good;
    Result<std::vector<Bed>> beds = own();
    if (!beds)
        return beds.problem();
    const auto old = findByName(*beds, bed.name);
    if (old == beds->end())
        beds->push_back(bed);
    else if (replace)
        *old = bed;
    else
        return Problem{Reason::BadArgument, fmt::format("there is a bed called \"{}\" already", bed.name),
                       m_file.string(), "", "Choose another name, or say that it shall be replaced."};
    return write(*beds);
}

Status BedShelf::remove(std::string_view name) const
{
    Result<std::vector<Bed>> beds = own();
    if (!beds)
        return beds.problem();
    const auto found = findByName(*beds, name);
    if (found == beds->end())
        return Problem{Reason::BadArgument, fmt::format("there is no bed of your own called \"{}\"", name),
                       m_file.string(), "", "The list of beds shows the names; shipped ones stay."};
    beds->erase(found);
    return write(*beds);
}

Status BedShelf::write(const std::vector<Bed>& beds) const
{
    Json list = Json::array();
    for (const Bed& bed : beds)
        list.push_back(toJson(bed));
    const Json json{{"version", fileVersion}, {"beds", list}};
    std::error_code error;
    if (m_file.has_parent_path())
        std::filesystem::create_directories(m_file.parent_path(), error);
    if (error)
        return Problem{Reason::FileUnwritable, "the folder can't be made: " + error.message(),
                       m_file.parent_path().string(), "", "Check the permissions of the folder above."};
    return mesh::writeAtomically(m_file, json.dump(2) + "\n");
}

} // namespace quoin::core
