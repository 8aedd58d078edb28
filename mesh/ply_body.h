// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/ply_header.h"
#include "mesh/text_scan.h"

#include <optional>
#include <string>
#include <string_view>

namespace quoin::mesh {

/// The values of a PLY file one after the other, from bytes of either order or from words. The first failure is
/// remembered; reads after it return 0.
class PlyBody {
public:
    PlyBody(std::string_view file, const PlyHeader& header);

    /// The next value. NaN stands for every value that is not finite: whether it may be so is for the caller to judge.
    double next(PlyType type);
    /// Passes over a value or a list.
    void skip(const PlyProperty& property);
    /// The length of the list that follows, 0 after a failure; fails when more are announced than can follow.
    std::uint64_t listLength(const PlyProperty& property);

    /// How many such elements can follow at most, by what is left of the file.
    std::uint64_t room(const PlyElement& element) const;
    bool failed() const { return m_problem.has_value(); }
    /// The remembered failure, told with what was being read ("vertex 17 of 200").
    Problem problem(const std::string& reading) const;
    /// "face 3 of 12, line 40" or "face 3 of 12, byte 1200".
    std::string place(const std::string& reading) const;
    double fractionRead() const;

private:
    double nextWord(PlyType type);
    double nextBytes(PlyType type);
    std::uint64_t valuesLeft(PlyType type) const;
    void failAtEnd();

    PlyEncoding m_encoding;
    std::string_view m_bytes; ///< of the body
    std::size_t m_bodyOffset;
    std::size_t m_bodyLine;
    std::size_t m_at = 0;
    TextScan m_words;
    std::optional<Problem> m_problem;
};

} // namespace quoin::mesh
