// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/own_file.h"

#include "core/bed.h"
#include "mesh/atomic_file.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>

namespace quoin::core {

namespace fs = std::filesystem;

namespace {
constexpr std::uint64_t mostBytes = 64 << 20;
constexpr std::size_t longestKind = 200;
} // namespace

Status readOwnFile(const fs::path& file, const OwnFile& what, const std::function<void(const JsonPlace&)>& take)
{
    std::error_code error;
    if (fs::symlink_status(file, error).type() == fs::file_type::not_found)
        return Done{};
    const auto document = jsonInFile(file, mostBytes);
    if (!document)
        return document.problem();
    try {
        const JsonPlace root(*document);
        if (root.at("kind").text(longestKind) != what.kind)
            root.at("kind").fail(fmt::format("this is no {}", what.words));
        if (const auto version = root.at("version").whole(1, INT32_MAX); version > what.version)
            return Problem{Reason::VersionTooNew,
                           fmt::format("the {} is of version {}, and this program knows version {}", what.words,
                                       version, what.version),
                           file.string(), "/version", "Use a newer version of this program."};
        root.at(what.listKey).each(what.mostRows, take);
        return Done{};
    } catch (const JsonPlace::Wrong& wrong) {
        return Problem{Reason::FileMalformed, fmt::format("the {} can't be used: {}", what.words, wrong.what),
                       file.string(), wrong.place, "Correct the file there, or move it away to start without."};
    }
}

Status writeOwnFile(const fs::path& file, const OwnFile& what, nlohmann::ordered_json rows)
{
    const nlohmann::ordered_json document{
        {"kind", what.kind}, {"version", what.version}, {what.listKey, std::move(rows)}};
    std::error_code error;
    if (file.has_parent_path())
        fs::create_directories(file.parent_path(), error);
    if (error)
        return Problem{Reason::FileUnwritable, "the folder can't be made: " + error.message(),
                       file.parent_path().string(), "", "Check the permissions of the folder above."};
    return mesh::writeAtomically(file, document.dump(2) + "\n");
}

fs::path configFile(const char* name)
{
    return BedShelf::defaultFile().parent_path() / name;
}

nlohmann::ordered_json orderedText(const std::string& text)
{
    return nlohmann::ordered_json::parse(textJson(text).dump());
}

bool isPlainText(const std::string& text, std::size_t longest)
{
    return text.size() <= longest && (text.empty() || (text.front() != ' ' && text.back() != ' ')) &&
           std::none_of(text.begin(), text.end(),
                        [](char c) { return std::iscntrl(static_cast<unsigned char>(c)) != 0; });
}

} // namespace quoin::core
