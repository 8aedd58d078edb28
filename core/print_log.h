// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/result.h"

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace quoin::core {

/// One print as it was estimated and as it came out.
struct PrintedRow {
    std::string date;   ///< ISO 8601 day; may be empty
    std::string piece;  ///< in the maker's words
    std::string recipe; ///< names as in estimates
    std::string material;
    std::string machine; ///< may be empty: not known
    /// What the model said before any factor of a log: PieceEstimate's modelled figures, copies and starting up added.
    double modelGrams = 0, modelExtrusionHours = 0, modelOverheadHours = 0;
    double actualGrams = 0; ///< weighed, with support and brim; 0: not weighed
    double actualHours = 0; ///< from start to end; 0: not noted

    double modelHours() const { return modelExtrusionHours + modelOverheadHours; }
    friend bool operator==(const PrintedRow&, const PrintedRow&) = default;
};

/// Whether a row can be used: modelled figures above 0, actual ones too but for one that is missing, none more than
/// twenty times off the model (a slip of the unit). BadArgument names the field.
Status checkPrintedRow(const PrintedRow& row);

/// What the maker printed, in the order in which it was written down.
class PrintLog {
public:
    /// $XDG_CONFIG_HOME/quoin/prints.json, else ~/.config/quoin/prints.json.
    static std::filesystem::path defaultFile();
    /// As readOwnFile (core/own_file.h).
    static Result<PrintLog> load(const std::filesystem::path& file);
    /// Written beside and renamed into place. FileUnwritable.
    Status save(const std::filesystem::path& file) const;

    const std::vector<PrintedRow>& rows() const { return m_rows; }
    /// BadArgument as checkPrintedRow.
    Result<PrintLog> withRow(PrintedRow row) const;
    /// @param number  from 1, as listed. BadArgument
    Result<PrintLog> withoutRow(std::size_t number) const;

    /// For a spreadsheet: RFC 4180, one header line, units in the names of the columns.
    std::string csv() const;
    /// With the rows of such a file added, in any order of columns; those that are in the log already are not doubled.
    /// FileMalformed names the line and the column; nothing is added then.
    Result<PrintLog> withCsv(std::string_view text) const;

private:
    std::vector<PrintedRow> m_rows;
};

} // namespace quoin::core
