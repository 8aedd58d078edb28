// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <stdexcept>
#include <string>
#include <utility>
#include <variant>

namespace quoin {

/// Every way in which the program says no. Each has a test.
enum class Reason {
    Cancelled,
    // files
    FileMissing,      ///< not there, or not a regular file
    FileUnreadable,   ///< permission, device error
    FileEmpty,        ///< no bytes, or no triangles
    FileTruncated,    ///< ends before what it announces
    FileMalformed,    ///< breaks its own format
    FileUnknownType,  ///< content of no format that we read
    FileTooLarge,     ///< announces more than can be held
    NumberNotFinite,  ///< NaN or infinity among the coordinates
    FileExists,       ///< would be overwritten
    FileUnwritable,   ///< could not be written
    VersionTooNew,    ///< a project file of a later version
    // models
    NotClosed,
    NotOriented,
    NotManifold,
    SelfIntersecting,
    NoVolume,
    NotRepairable,
    // the job
    BadArgument,
    CutFailed,
    DoesNotFit,
    JointFailed,
    ProofFailed,
};

/// A refusal, as data: what, where, and what to do about it. Made below, shown by the window and the command line.
struct Problem {
    Reason reason;
    std::string what;   ///< one sentence without the file name: "the file ends inside facet 17 of 200"
    std::string file;   ///< path as the user gave it; empty when no file is concerned
    std::string place;  ///< "line 12", "byte 84", "(10.0, 2.5, 0.0) mm"; may be empty
    std::string remedy; ///< what the user can do; may be empty

    /// "model.stl: the file ends inside facet 17 of 200 (byte 930). Export it again."
    std::string sentence() const;
};

/// A remark that doesn't stop the work.
struct Note {
    enum class Severity { Info, Warning, Error };
    Severity severity = Severity::Info;
    std::string text;
    std::string place;
};

/// A value or the reason why there is none. Exceptions are for programmers' mistakes only.
template <class T>
class [[nodiscard]] Result {
public:
    Result(T value) : m_state(std::in_place_index<0>, std::move(value)) {}
    Result(Problem problem) : m_state(std::in_place_index<1>, std::move(problem)) {}

    bool ok() const { return m_state.index() == 0; }
    explicit operator bool() const { return ok(); }
    const T& value() const&
    {
        require();
        return std::get<0>(m_state);
    }
    T& value() &
    {
        require();
        return std::get<0>(m_state);
    }
    T&& value() &&
    {
        require();
        return std::get<0>(std::move(m_state));
    }
    const T& operator*() const& { return value(); }
    T& operator*() & { return value(); }
    T&& operator*() && { return std::move(*this).value(); }
    const T* operator->() const { return &value(); }
    T* operator->() { return &value(); }
    const Problem& problem() const { return std::get<1>(m_state); }

private:
    void require() const
    {
        if (!ok())
            throw std::logic_error("Result without a value: " + std::get<1>(m_state).sentence());
    }
    std::variant<T, Problem> m_state;
};

/// Result of something done for its effect.
struct Done {};
using Status = Result<Done>;

} // namespace quoin
