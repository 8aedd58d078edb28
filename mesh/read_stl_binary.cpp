// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/float_weld.h"
#include "mesh/model_readers.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstring>
#include <limits>
#include <vector>

namespace quoin::mesh {

namespace {

static_assert(std::endian::native == std::endian::little, "facets are copied as they lie in the file");

constexpr std::size_t headerBytes = 80;
constexpr std::size_t frontBytes = 84;
constexpr std::size_t facetBytes = 50;
constexpr std::size_t batchFacets = 64;
constexpr std::size_t chunkFacets = batchFacets * 256; // 0.8 MB: stays in the second-level cache
constexpr std::size_t sampleFacets = 256;
constexpr std::uint32_t signBit = 0x80000000u;
constexpr std::uint32_t exponentBits = 0x7F800000u;
/// A file whose count is wrong is taken for STL only if its facets look like facets: magnitudes in this range.
constexpr float plausibleLeast = 1e-12f;
constexpr float plausibleMost = 1e12f;
/// A stored normal is called wrong when it is more than 60 degrees off (cosine squared below this).
constexpr float wrongNormalCosSquared = 0.25f;

using FloatBits = std::array<std::uint32_t, 12>; // normal, then three corners

FloatBits floatsAt(const char* facet)
{
    FloatBits bits;
    std::memcpy(bits.data(), facet, sizeof bits);
    return bits;
}

bool notFinite(std::uint32_t bits)
{
    return (bits & exponentBits) == exponentBits;
}

enum class FacetLook { Plausible, AllZero, Implausible };

FacetLook lookOf(const char* facet)
{
    const FloatBits bits = floatsAt(facet);
    bool zero = true;
    for (std::size_t k = 3; k < bits.size(); ++k) {
        const float magnitude = std::bit_cast<float>(bits[k] & ~signBit);
        zero = zero && magnitude == 0;
        if (magnitude != 0 && !(magnitude > plausibleLeast && magnitude < plausibleMost))
            return FacetLook::Implausible;
    }
    return zero ? FacetLook::AllZero : FacetLook::Plausible;
}

/// Whether `count` facets from `first` on (the file holds them) look like facets; a sample of them is looked at.
bool looksLikeFacets(const SourceFile& file, std::uint64_t first, std::uint64_t count)
{
    const auto sample = static_cast<std::size_t>(std::min<std::uint64_t>(count, sampleFacets));
    Buffer<char> facets(sample * facetBytes);
    if (!file.read(frontBytes + first * facetBytes, facets.data(), facets.size()))
        return false;
    bool anything = false;
    for (std::size_t i = 0; i < sample; ++i) {
        const FacetLook look = lookOf(facets.data() + i * facetBytes);
        if (look == FacetLook::Implausible)
            return false;
        anything = anything || look == FacetLook::Plausible;
    }
    return anything; // nothing but zeros is no model
}

std::uint32_t announcedFacets(const char* head)
{
    std::uint32_t count = 0;
    std::memcpy(&count, head + headerBytes, sizeof count);
    return count;
}

struct Facets {
    std::uint64_t announced = 0;
    std::uint64_t read = 0; ///< how many to read
};

/// Reads facets batch by batch into a mesh.
class FacetReader {
public:
    FacetReader(std::uint64_t facets, double scale) : m_scale(scale), m_weld(static_cast<std::size_t>(facets / 2 + 16))
    {
        // Euler: a closed surface has about half as many points as triangles.
        m_mesh.points.reserve(static_cast<std::size_t>(facets / 2 + facets / 32 + 16));
        m_mesh.triangles.resize(static_cast<std::size_t>(facets));
    }

    /// @return the number within the chunk of the first facet with a corner that is no number, or `count`
    std::size_t add(const char* chunk, std::size_t count)
    {
        for (std::size_t done = 0; done < count; done += batchFacets) {
            const std::size_t batch = std::min(batchFacets, count - done);
            const char* facets = chunk + done * facetBytes;
            if (!prepare(facets, batch))
                return done + firstNotFinite(facets, batch);
            insert(batch);
        }
        return count;
    }

    Mesh takeMesh()
    {
        m_mesh.triangles.resize(m_kept);
        return std::move(m_mesh);
    }
    std::size_t dropped() const { return m_dropped; }
    std::size_t wrongNormals() const { return m_wrongNormals; }

private:
    /// Takes the keys of a batch and fetches their slots ahead. False when a corner is not finite.
    bool prepare(const char* facets, std::size_t batch)
    {
        std::uint32_t bad = 0;
        for (std::size_t i = 0; i < batch; ++i) {
            FloatBits bits = floatsAt(facets + i * facetBytes);
            for (std::size_t k = 3; k < bits.size(); ++k) {
                bad |= notFinite(bits[k]);
                bits[k] = bits[k] == signBit ? 0 : bits[k];
            }
            for (std::size_t c = 0; c < 3; ++c) {
                const FloatWeld::Key key{bits[3 + 3 * c], bits[4 + 3 * c], bits[5 + 3 * c]};
                m_keys[3 * i + c] = key;
                m_hashes[3 * i + c] = FloatWeld::hash(key);
                m_weld.prefetch(m_hashes[3 * i + c]);
            }
            m_wrongNormals += normalIsWrong(bits);
        }
        return bad == 0;
    }

    static bool normalIsWrong(const FloatBits& bits)
    {
        std::array<float, 12> f;
        std::memcpy(f.data(), bits.data(), sizeof f);
        const float ux = f[6] - f[3], uy = f[7] - f[4], uz = f[8] - f[5];
        const float vx = f[9] - f[3], vy = f[10] - f[4], vz = f[11] - f[5];
        const float cx = uy * vz - uz * vy, cy = uz * vx - ux * vz, cz = ux * vy - uy * vx;
        const float along = cx * f[0] + cy * f[1] + cz * f[2];
        const float lengths = (cx * cx + cy * cy + cz * cz) * (f[0] * f[0] + f[1] * f[1] + f[2] * f[2]);
        // No normal and no area (lengths 0) say nothing; NaN compares false.
        return lengths > 0 && (along < 0 || along * along < wrongNormalCosSquared * lengths);
    }

    void insert(std::size_t batch)
    {
        for (std::size_t i = 0; i < batch; ++i) {
            const FloatWeld::Key* key = &m_keys[3 * i];
            if (key[0] == key[1] || key[1] == key[2] || key[2] == key[0]) {
                ++m_dropped;
                continue;
            }
            Triangle& t = m_mesh.triangles[m_kept++];
            for (std::size_t c = 0; c < 3; ++c)
                t[c] = m_weld.insert(key[c], m_hashes[3 * i + c], m_mesh.points, m_scale);
        }
    }

    static std::size_t firstNotFinite(const char* facets, std::size_t batch)
    {
        for (std::size_t i = 0; i < batch; ++i) {
            const FloatBits bits = floatsAt(facets + i * facetBytes);
            if (std::any_of(bits.begin() + 3, bits.end(), notFinite))
                return i;
        }
        return batch;
    }

    double m_scale;
    FloatWeld m_weld;
    Mesh m_mesh;
    std::size_t m_kept = 0;
    std::size_t m_dropped = 0;
    std::size_t m_wrongNormals = 0;
    std::array<FloatWeld::Key, 3 * batchFacets> m_keys;
    std::array<std::uint64_t, 3 * batchFacets> m_hashes;
};

Problem truncated(const Facets& facets, std::uint64_t size)
{
    return Problem{Reason::FileTruncated,
                   "the file ends inside facet " + std::to_string(facets.read + 1) + " of " +
                       std::to_string(std::max(facets.announced, facets.read + 1)),
                   "", "byte " + std::to_string(size), "Export or copy it again."};
}

/// Notes about the count, for the fits that are read in spite of it.
void noteCount(const Facets& facets, StlFit fit, std::uint64_t size, Model& model)
{
    const std::string announced = std::to_string(facets.announced), read = std::to_string(facets.read);
    if (fit == StlFit::WrongCount)
        model.notes.push_back({Note::Severity::Warning,
                               "the header announces " + announced + " facets, the file holds " + read +
                                   " whole ones; all of them were read",
                               "byte 80"});
    if (fit == StlFit::Trailing)
        model.notes.push_back({Note::Severity::Warning,
                               std::to_string(size - frontBytes - facets.read * facetBytes) +
                                   " bytes after the last of the " + announced + " announced facets were left out",
                               "byte " + std::to_string(frontBytes + facets.read * facetBytes)});
}

} // namespace

StlFit binaryStlFit(const SourceFile& file)
{
    std::array<char, frontBytes> front{};
    if (file.bytes() < frontBytes || !file.read(0, front.data(), front.size()))
        return StlFit::None;
    const std::uint64_t announced = announcedFacets(front.data());
    const std::uint64_t held = (file.bytes() - frontBytes) / facetBytes;
    const bool whole = (file.bytes() - frontBytes) % facetBytes == 0;
    if (whole && announced == held)
        return StlFit::Exact;
    if (held == 0 || !looksLikeFacets(file, 0, std::min(held, std::max<std::uint64_t>(announced, 1))))
        return StlFit::None;
    if (announced >= held)
        return whole ? StlFit::WrongCount : StlFit::Truncated;
    // More than announced: more facets with a wrong count, or something else after the last facet?
    if (!looksLikeFacets(file, announced, held - announced))
        return StlFit::Trailing;
    return whole ? StlFit::WrongCount : StlFit::Truncated;
}

Result<Model> readStlBinary(const SourceFile& file, StlFit fit, double millimetres, const Context& context)
{
    std::array<char, frontBytes> front{};
    if (const Status read = file.read(0, front.data(), front.size()); !read)
        return read.problem();
    Facets facets{announcedFacets(front.data()), (file.bytes() - frontBytes) / facetBytes};
    if (fit == StlFit::Truncated)
        return truncated(facets, file.bytes());
    if (fit == StlFit::Trailing)
        facets.read = facets.announced;
    if (facets.read == 0)
        return Problem{Reason::FileEmpty, "the file holds no facets", "", "", "Export the model again."};
    if (facets.read > std::numeric_limits<Index>::max() / 3)
        return Problem{Reason::FileTooLarge, "the file holds more facets than can be counted", "", "",
                       "Reduce the model first."};

    FacetReader reader(facets.read, millimetres);
    Buffer<char> chunk(chunkFacets * facetBytes);
    for (std::uint64_t done = 0; done < facets.read; done += chunkFacets) {
        if (context.cancelled())
            return readingCancelled();
        context.report(static_cast<double>(done) / static_cast<double>(facets.read), "reading");
        const auto count = static_cast<std::size_t>(std::min<std::uint64_t>(chunkFacets, facets.read - done));
        if (const Status read = file.read(frontBytes + done * facetBytes, chunk.data(), count * facetBytes); !read)
            return read.problem();
        const std::size_t good = reader.add(chunk.data(), count);
        if (good < count)
            return Problem{Reason::NumberNotFinite, "a corner is not a number (NaN or infinite)", "",
                           "facet " + std::to_string(done + good + 1) + ", byte " +
                               std::to_string(frontBytes + (done + good) * facetBytes),
                           "Repair the model where it was made, then export it again."};
    }
    Model model;
    model.format = Format::StlBinary;
    model.mesh = reader.takeMesh();
    model.droppedTriangles = reader.dropped();
    noteCount(facets, fit, file.bytes(), model);
    if (reader.wrongNormals() > 0)
        model.notes.push_back({Note::Severity::Info,
                               std::to_string(reader.wrongNormals()) +
                                   " stored normals disagree with the order of the corners; the corners count",
                               ""});
    return model;
}

} // namespace quoin::mesh
