// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/result.h"
#include "mesh/transform.h"

#include <Model/COM/NMR_DLLInterfaces.h>

#include <optional>
#include <string>
#include <utility>

/// What the reader of 3MF needs around lib3mf 1.8. Included by .cpp files only.
namespace quoin::mesh::threemf {

/// Owns one object of the library. The library's handle types are all the same pointer under different names.
class Handle {
public:
    Handle() = default;
    Handle(Handle&& other) noexcept : m_object(std::exchange(other.m_object, nullptr)) {}
    Handle& operator=(Handle&& other) noexcept
    {
        std::swap(m_object, other.m_object);
        return *this;
    }
    ~Handle()
    {
        if (m_object != nullptr)
            NMR::lib3mf_release(m_object);
    }
    NMR::PLib3MFBase* get() const { return m_object; }
    /// For calls that make an object.
    NMR::PLib3MFBase** out() { return &m_object; }

private:
    NMR::PLib3MFBase* m_object = nullptr;
};

/// Remembers the first refusal of the library in its own words.
class Calls {
public:
    /// @param on  the object that was asked, which keeps the message
    bool ok(LIB3MFRESULT result, const Handle& on)
    {
        if (result != LIB3MF_OK && !m_message)
            m_message = messageOf(on);
        return result == LIB3MF_OK;
    }
    bool failed() const { return m_message.has_value(); }
    std::string message() const { return m_message.value_or(""); }

private:
    static std::string messageOf(const Handle& on)
    {
        DWORD code = 0;
        LPCSTR text = nullptr;
        if (on.get() == nullptr || NMR::lib3mf_getlasterror(on.get(), &code, &text) != LIB3MF_OK || text == nullptr)
            return "no reason given";
        return std::string(text) + " (error " + std::to_string(code) + ")";
    }
    std::optional<std::string> m_message;
};

/// The library keeps the matrix as 3 rows of 4, acting on columns, as we do.
inline Transform fromLibrary(const NMR::MODELTRANSFORM& matrix)
{
    Transform map;
    for (int row = 0; row < 3; ++row)
        for (int column = 0; column < 4; ++column)
            map.m[static_cast<std::size_t>(4 * row + column)] = double{matrix.m_fFields[row][column]};
    return map;
}

} // namespace quoin::mesh::threemf
