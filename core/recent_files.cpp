// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/recent_files.h"

#include "core/json_place.h"
#include "core/state_folder.h"
#include "mesh/atomic_file.h"

#include <fmt/format.h>

#include <algorithm>

namespace quoin::core {

namespace fs = std::filesystem;
using nlohmann::json;

namespace {

constexpr const char* listKind = "quoin recent files";
constexpr int listVersion = 1;
constexpr std::uint64_t mostBytes = 1 << 20;
constexpr std::size_t longestPath = 4096, longestTime = 40, mostRead = 1000;
constexpr int asideAttempts = 1000;

fs::path absoluteName(const fs::path& file)
{
    return fs::absolute(file).lexically_normal();
}

/// Another free name for a file that can't be read, beside it.
fs::path asideName(const fs::path& file)
{
    std::error_code error;
    for (int i = 1; i < asideAttempts; ++i) {
        const fs::path aside = file.string() + fmt::format(".damaged-{}", i);
        if (!fs::exists(fs::symlink_status(aside, error)))
            return aside;
    }
    return file.string() + ".damaged";
}

} // namespace

fs::path RecentFiles::defaultFile()
{
    return stateFolder() / "recent.json";
}

Result<std::vector<RecentFile>> RecentFiles::read() const
{
    std::error_code error;
    if (!fs::exists(fs::symlink_status(m_file, error)))
        return std::vector<RecentFile>{};
    const auto document = jsonInFile(m_file, mostBytes);
    if (!document)
        return document.problem();
    try {
        const JsonPlace root(*document);
        if (root.at("kind").text(longestPath) != listKind)
            root.at("kind").fail("this is no list of files");
        root.at("version").whole(1, listVersion);
        std::vector<RecentFile> files;
        root.at("files").each(mostRead, [&](const JsonPlace& f) {
            const fs::path file = f.at("file").text(longestPath);
            if (!file.is_absolute())
                f.at("file").fail("a path from the root was expected");
            if (files.size() < most)
                files.push_back({file, f.at("opened_at").text(longestTime)});
        });
        return files;
    } catch (const JsonPlace::Wrong& wrong) {
        return Problem{Reason::FileMalformed, "the list of recent files is damaged: " + wrong.what, m_file.string(),
                       wrong.place, "It will be moved aside and begun anew."};
    }
}

std::vector<RecentFile> RecentFiles::list(std::string* note) const
{
    auto files = read();
    if (note != nullptr)
        *note = files ? "" : files.problem().sentence();
    return files ? *files : std::vector<RecentFile>{};
}

Result<std::vector<RecentFile>> RecentFiles::readForChange() const
{
    auto files = read();
    if (files)
        return files;
    std::error_code error;
    fs::rename(m_file, asideName(m_file), error);
    if (error)
        return Problem{Reason::FileUnwritable,
                       "the list of recent files can't be read, and not be moved aside: " + error.message(),
                       m_file.string(),
                       {},
                       "Move that file away."};
    return std::vector<RecentFile>{};
}

Status RecentFiles::write(const std::vector<RecentFile>& files) const
{
    json list = json::array();
    for (const RecentFile& f : files)
        list.push_back({{"file", textJson(f.file.string())}, {"opened_at", f.openedAt}});
    std::error_code error;
    if (m_file.has_parent_path())
        fs::create_directories(m_file.parent_path(), error);
    if (error)
        return Problem{Reason::FileUnwritable,
                       "the folder can't be made: " + error.message(),
                       m_file.parent_path().string(),
                       {},
                       "Check the permissions of the folder above."};
    return mesh::writeAtomically(m_file,
                                 json{{"kind", listKind}, {"version", listVersion}, {"files", list}}.dump(1) + "\n");
}

Status RecentFiles::add(const fs::path& file) const
{
    auto files = readForChange();
    if (!files)
        return files.problem();
    const fs::path name = absoluteName(file);
    std::erase_if(*files, [&](const RecentFile& f) { return f.file == name; });
    files->insert(files->begin(), {name, timeStamp()});
    if (files->size() > most)
        files->resize(most);
    return write(*files);
}

Status RecentFiles::remove(const fs::path& file) const
{
    auto files = readForChange();
    if (!files)
        return files.problem();
    const fs::path name = absoluteName(file);
    if (std::erase_if(*files, [&](const RecentFile& f) { return f.file == name; }) == 0)
        return Done{};
    return write(*files);
}

Status RecentFiles::clear() const
{
    const auto files = readForChange();
    if (!files)
        return files.problem();
    return files->empty() ? Status(Done{}) : write({});
}

} // namespace quoin::core
