// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/ply_body.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <cstring>
#include <limits>

namespace quoin::mesh {

namespace {

template <class T>
double as(const char* raw)
{
    T value;
    std::memcpy(&value, raw, sizeof value);
    return static_cast<double>(value);
}

double valueOf(const char* raw, PlyType type)
{
    switch (type) {
    case PlyType::Int8:
        return as<std::int8_t>(raw);
    case PlyType::UInt8:
        return as<std::uint8_t>(raw);
    case PlyType::Int16:
        return as<std::int16_t>(raw);
    case PlyType::UInt16:
        return as<std::uint16_t>(raw);
    case PlyType::Int32:
        return as<std::int32_t>(raw);
    case PlyType::UInt32:
        return as<std::uint32_t>(raw);
    case PlyType::Float32:
        return as<float>(raw);
    case PlyType::Float64:
        return as<double>(raw);
    }
    return 0;
}

} // namespace

PlyBody::PlyBody(std::string_view file, const PlyHeader& header)
    : m_encoding(header.encoding),
      m_bytes(file.substr(header.bodyOffset)),
      m_bodyOffset(header.bodyOffset),
      m_bodyLine(header.bodyLine),
      m_words(m_bytes)
{
}

double PlyBody::next(PlyType type)
{
    if (m_problem)
        return 0;
    const double value = m_encoding == PlyEncoding::Ascii ? nextWord(type) : nextBytes(type);
    return std::isfinite(value) ? value : std::numeric_limits<double>::quiet_NaN();
}

double PlyBody::nextWord(PlyType type)
{
    const std::string_view word = m_words.word();
    if (word.empty()) {
        failAtEnd();
        return 0;
    }
    double value = 0;
    const NumberKind kind = parseNumber(word, value);
    if (kind == NumberKind::NotANumber ||
        (isWhole(type) && (kind == NumberKind::NotFinite || value != std::floor(value)))) {
        m_problem = badNumber(word, NumberKind::NotANumber, "");
        return 0;
    }
    return kind == NumberKind::NotFinite ? std::numeric_limits<double>::quiet_NaN() : value;
}

double PlyBody::nextBytes(PlyType type)
{
    const std::size_t size = plyBytes(type);
    if (m_bytes.size() - m_at < size) {
        failAtEnd();
        return 0;
    }
    std::array<char, 8> raw{};
    std::memcpy(raw.data(), m_bytes.data() + m_at, size);
    m_at += size;
    const bool foreign = (m_encoding == PlyEncoding::BigEndian) == (std::endian::native == std::endian::little);
    if (foreign)
        std::reverse(raw.begin(), raw.begin() + static_cast<std::ptrdiff_t>(size));
    return valueOf(raw.data(), type);
}

std::uint64_t PlyBody::valuesLeft(PlyType type) const
{
    // A word takes two bytes with its separator, which the last one may lack.
    return m_encoding == PlyEncoding::Ascii ? (m_words.left() + 1) / 2 : (m_bytes.size() - m_at) / plyBytes(type);
}

std::uint64_t PlyBody::listLength(const PlyProperty& property)
{
    const double length = next(property.countType);
    if (m_problem)
        return 0;
    if (length < 0) {
        m_problem = Problem{Reason::FileMalformed, "a list has a negative length", "", "", "Export the model again."};
        return 0;
    }
    if (length > static_cast<double>(valuesLeft(property.type))) {
        failAtEnd();
        return 0;
    }
    return static_cast<std::uint64_t>(length);
}

void PlyBody::skip(const PlyProperty& property)
{
    const std::uint64_t count = property.isList ? listLength(property) : 1;
    if (m_encoding == PlyEncoding::Ascii)
        for (std::uint64_t i = 0; i < count && !m_problem; ++i)
            next(property.type);
    else if (count > valuesLeft(property.type))
        failAtEnd();
    else
        m_at += static_cast<std::size_t>(count) * plyBytes(property.type);
}

std::uint64_t PlyBody::room(const PlyElement& element) const
{
    if (element.properties.empty())
        return std::numeric_limits<std::uint64_t>::max();
    if (m_encoding == PlyEncoding::Ascii)
        return valuesLeft(PlyType::Int8) / element.properties.size();
    std::size_t least = 0; // a list may be empty, but has a length
    for (const PlyProperty& p : element.properties)
        least += plyBytes(p.isList ? p.countType : p.type);
    return (m_bytes.size() - m_at) / least;
}

void PlyBody::failAtEnd()
{
    if (!m_problem)
        m_problem = Problem{Reason::FileTruncated, "", "", "", "Export or copy it again."};
}

Problem PlyBody::problem(const std::string& reading) const
{
    Problem p = *m_problem;
    if (p.reason == Reason::FileTruncated)
        p.what = "the file ends inside " + reading;
    p.place = place(reading);
    return p;
}

std::string PlyBody::place(const std::string& reading) const
{
    return reading + ", " +
           (m_encoding == PlyEncoding::Ascii ? placeOfLine(m_bodyLine + m_words.line() - 1)
                                             : "byte " + std::to_string(m_bodyOffset + m_at));
}

double PlyBody::fractionRead() const
{
    const std::size_t done = m_encoding == PlyEncoding::Ascii ? m_words.offset() : m_at;
    return m_bytes.empty() ? 1.0 : static_cast<double>(done) / static_cast<double>(m_bytes.size());
}

} // namespace quoin::mesh
