// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/atomic_file.h"
#include "mesh/write_check.h"
#include "mesh/write_model.h"
#include "mesh/zip_archive.h"

#include <fmt/format.h>

#include <charconv>
#include <limits>

namespace quoin::mesh {

namespace {

// 3MF core 1.2, chapter 2: the package, its two fixed parts and the names in them.
constexpr const char* contentTypes =
    "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
    "<Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\">\n"
    "<Default Extension=\"rels\" ContentType=\"application/vnd.openxmlformats-package.relationships+xml\"/>\n"
    "<Default Extension=\"model\" ContentType=\"application/vnd.ms-package.3dmanufacturing-3dmodel+xml\"/>\n"
    "</Types>\n";
constexpr const char* relationships =
    "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
    "<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\">\n"
    "<Relationship Target=\"/3D/3dmodel.model\" Id=\"rel0\" "
    "Type=\"http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel\"/>\n"
    "</Relationships>\n";
constexpr const char* modelStart =
    "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
    "<model unit=\"millimeter\" xml:lang=\"en-US\" "
    "xmlns=\"http://schemas.microsoft.com/3dmanufacturing/core/2015/02\">\n<resources>\n";

/// Whether the bytes from `at` on begin with a UTF-8 sequence, and how long it is; 0 if not (RFC 3629).
std::size_t sequenceLength(std::string_view text, std::size_t at)
{
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    const unsigned first = byte(at);
    const std::size_t length = first < 0x80                    ? 1
                               : first >= 0xC2 && first < 0xE0 ? 2
                               : first >= 0xE0 && first < 0xF0 ? 3
                               : first >= 0xF0 && first < 0xF5 ? 4
                                                               : 0;
    if (length == 0 || at + length > text.size())
        return 0;
    for (std::size_t i = 1; i < length; ++i)
        if ((byte(at + i) & 0xC0) != 0x80)
            return 0;
    return length;
}

/// A name as the value of an attribute. What XML can't hold (controls, broken UTF-8) becomes a question mark.
std::string attributeText(std::string_view text)
{
    std::string out;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t length = sequenceLength(text, at);
        const char c = text[at];
        if (length == 0 || (length == 1 && (static_cast<unsigned char>(c) < 0x20 || c == 0x7F)))
            out += '?';
        else if (c == '&')
            out += "&amp;";
        else if (c == '<')
            out += "&lt;";
        else if (c == '"')
            out += "&quot;";
        else
            out += text.substr(at, length);
        at += std::max<std::size_t>(length, 1);
    }
    return out;
}

/// Text gathered in pieces and handed on when it has grown.
class ModelText {
public:
    explicit ModelText(ZipWriter& zip) : m_zip(zip) { m_text.reserve(2 * pieceBytes); }
    ~ModelText() { m_zip.append(m_text); }
    ModelText(const ModelText&) = delete;
    ModelText& operator=(const ModelText&) = delete;

    ModelText& operator<<(std::string_view text)
    {
        m_text += text;
        if (m_text.size() > pieceBytes) {
            m_zip.append(m_text);
            m_text.clear();
        }
        return *this;
    }
    /// The shortest decimals that read back as the same number.
    template <class Number>
    ModelText& number(Number value)
    {
        std::array<char, 32> digits;
        const auto [end, error] = std::to_chars(digits.data(), digits.data() + digits.size(), value);
        return *this << std::string_view(digits.data(), static_cast<std::size_t>(end - digits.data()));
    }

private:
    static constexpr std::size_t pieceBytes = 1 << 16;
    ZipWriter& m_zip;
    std::string m_text;
};

void writeObject(ModelText& out, std::size_t id, const NamedMesh& object)
{
    out << "<object id=\"";
    out.number(id) << "\" type=\"model\" name=\"" << attributeText(object.name) << "\"><mesh><vertices>\n";
    for (const Vec3& p : object.mesh->points) {
        // As floats, the same that an STL of the mesh holds.
        out << "<vertex x=\"";
        out.number(static_cast<float>(p.x)) << "\" y=\"";
        out.number(static_cast<float>(p.y)) << "\" z=\"";
        out.number(static_cast<float>(p.z)) << "\"/>\n";
    }
    out << "</vertices><triangles>\n";
    for (const Triangle& t : object.mesh->triangles) {
        out << "<triangle v1=\"";
        out.number(t[0]) << "\" v2=\"";
        out.number(t[1]) << "\" v3=\"";
        out.number(t[2]) << "\"/>\n";
    }
    out << "</triangles></mesh></object>\n";
}

/// 3MF core 3.3: row vectors, so our matrix column by column, the translation last.
void writeItem(ModelText& out, std::size_t id, const Transform& placement)
{
    out << "<item objectid=\"";
    out.number(id) << "\" transform=\"";
    for (std::size_t column = 0; column < 4; ++column)
        for (std::size_t row = 0; row < 3; ++row) {
            out << (column + row > 0 ? " " : "");
            out.number(placement.m[4 * row + column]);
        }
    out << "\"/>\n";
}

Status checkObject(const std::filesystem::path& file, const NamedMesh& object)
{
    if (Status checked = checkWritable(file, *object.mesh, std::numeric_limits<float>::max()); !checked)
        return checked;
    for (const Triangle& t : object.mesh->triangles)
        if (t[0] == t[1] || t[1] == t[2] || t[2] == t[0])
            return Problem{Reason::BadArgument, "a triangle has two equal corners, which 3MF forbids", file.string(),
                           fmt::format("\"{}\", triangle {}", object.name, &t - object.mesh->triangles.data()),
                           "Repair the model first."};
    return Done{};
}

} // namespace

Status write3mf(const std::filesystem::path& file, const std::vector<NamedMesh>& objects)
{
    if (objects.empty())
        return Problem{Reason::BadArgument, "there are no objects to write", file.string(), "", ""};
    for (const NamedMesh& object : objects)
        if (Status checked = checkObject(file, object); !checked)
            return checked;
    ZipWriter zip;
    zip.begin("[Content_Types].xml");
    zip.append(contentTypes);
    zip.begin("_rels/.rels");
    zip.append(relationships);
    zip.begin("3D/3dmodel.model");
    {
        ModelText out(zip);
        out << modelStart;
        for (std::size_t i = 0; i < objects.size(); ++i)
            writeObject(out, i + 1, objects[i]);
        out << "</resources>\n<build>\n";
        for (std::size_t i = 0; i < objects.size(); ++i)
            writeItem(out, i + 1, objects[i].placement);
        out << "</build>\n</model>\n";
    }
    const Result<std::string> bytes = zip.finish();
    if (!bytes) {
        Problem problem = bytes.problem();
        problem.file = file.string();
        return problem;
    }
    return writeAtomically(file, *bytes);
}

} // namespace quoin::mesh
