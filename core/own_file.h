// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/json_place.h"

#include <filesystem>
#include <functional>
#include <string>

/// Files of the maker's own rows: recipes, prices of filament, the log of prints. `kind`, `version` and a list.
namespace quoin::core {

/// What such a file is.
struct OwnFile {
    const char* kind;    ///< "quoin recipes"
    int version;         ///< that this program writes; earlier ones are read
    const char* words;   ///< "list of recipes": what messages call it
    const char* listKey; ///< "rows"
    std::size_t mostRows;
};

/// Calls `take` for each row. A missing file has none. A damaged one is a problem that names the file and the place in
/// it (RFC 6901); VersionTooNew one of a later program. `take` throws JsonPlace::Wrong.
Status readOwnFile(const std::filesystem::path& file, const OwnFile& what,
                   const std::function<void(const JsonPlace&)>& take);

/// Writes the rows under a temporary name and renames; makes the folder. FileUnwritable.
Status writeOwnFile(const std::filesystem::path& file, const OwnFile& what, nlohmann::ordered_json rows);

/// $XDG_CONFIG_HOME/quoin/NAME, else ~/.config/quoin/NAME.
std::filesystem::path configFile(const char* name);

/// A text as JSON of the kind that keeps its order, also when it isn't UTF-8.
nlohmann::ordered_json orderedText(const std::string& text);

/// Whether a text can be a name or a remark: at most so many bytes, no control characters, no blank at either end.
bool isPlainText(const std::string& text, std::size_t longest);

} // namespace quoin::core
