// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/model_file.h"
#include "mesh/write_model.h"
#include "tests/support/model_text.h"
#include "tests/support/scratch.h"
#include "tests/support/zip_text.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <random>

using namespace quoin;
using namespace quoin::mesh;
using test::contentOf;
using test::putContent;
using test::reference;
using test::ScratchFolder;

namespace {

constexpr int flippedVariants = 4000;

struct Sample {
    std::string name; ///< of the file
    std::string bytes;
    bool packed = false; ///< the bytes are the model part of a 3MF package, and go into one whole after the damage
};

Sample sampleOf(const std::string& kind)
{
    ScratchFolder scratch;
    const auto cube = readModel(reference("stl-models/polytopes/unitCube.binary.stl"), {Unit::Centimetre});
    REQUIRE(cube.ok());
    Mesh labelled = cube->mesh;
    labelled.labels.assign(labelled.triangles.size(), 3);
    const auto file = scratch / "sample";
    if (kind == "binary STL")
        return {"a.stl", contentOf(reference("stl-models/polytopes/tetrahedron.bin.stl"))};
    if (kind == "ASCII STL")
        return {"a.stl", contentOf(reference("stl-models/polytopes/tetrahedron.ascii.stl"))};
    if (kind == "binary PLY") {
        REQUIRE(writePly(file, labelled).ok());
        return {"a.ply", contentOf(file)};
    }
    if (kind == "ASCII PLY")
        return {"a.ply",
                "ply\nformat ascii 1.0\nelement vertex 4\nproperty float x\nproperty float y\nproperty float z\n"
                "element face 2\nproperty list uchar int vertex_indices\nproperty int label\nend_header\n"
                "0 0 0\n10 0 0\n3 3 0\n0 10 0\n4 0 1 2 3 7\n3 0 3 2 8\n"};
    if (kind == "OBJ")
        return {"a.obj",
                "o part\nv 0 0 0\nv 10 0 0\nv 3 3 0\nv 0 10 0\nv 0 0 10\nvt 0 0\nvn 0 0 1\nf 1/1/1 2/1/1 3/1/1 "
                "4/1/1\nf -1 \\\n1 2\nf 1 4 5\n"};
    if (kind == "OFF")
        return {"a.off",
                "COFF\n5 3 0\n0 0 0 9\n10 0 0 9\n3 3 0 9\n0 10 0 9\n0 0 10 9\n4 0 1 2 3\n3 0 4 1 255 0 0\n3 0 3 4\n"};
    if (kind == "3MF model part")
        return {
            "a.3mf",
            "<?xml version=\"1.0\" encoding=\"UTF-8\"?><!-- two -->\n<model unit=\"inch\" "
            "xmlns=\"http://schemas.microsoft.com/3dmanufacturing/core/2015/02\"><metadata "
            "name=\"Title\">x&amp;y</metadata>"
            "<resources><object id=\"1\" type=\"model\" name=\"a\"><mesh><vertices><vertex x=\"0\" y=\"0\" z=\"0\"/>"
            "<vertex x=\"6\" y=\"0\" z=\"0\"/><vertex x=\"0\" y=\"6.5\" z=\"0\"/><vertex x=\"0\" y=\"0\" z=\"6e0\"/>"
            "</vertices><triangles><triangle v1=\"0\" v2=\"2\" v3=\"1\"/><triangle v1=\"0\" v2=\"1\" v3=\"3\"/>"
            "<triangle v1=\"0\" v2=\"3\" v3=\"2\"/><triangle v1=\"1\" v2=\"2\" v3=\"3\"/></triangles></mesh></object>"
            "<object id=\"2\"><components><component objectid=\"1\" transform=\"1 0 0 0 1 0 0 0 1 9 0 0\"/>"
            "<component objectid=\"1\"/></components></object></resources><build><item objectid=\"2\"/>"
            "<item objectid=\"1\" transform=\"-1 0 0 0 1 0 0 0 1 0 0 9\"/></build></model>",
            true};
    REQUIRE(write3mf(file, {{"cube", &cube->mesh, {}}}).ok());
    return {"a.3mf", contentOf(file)};
}

/// What must hold whatever a reader was given.
void checkSane(const Result<Model>& model, std::size_t fileBytes)
{
    if (!model.ok()) {
        if (model.problem().what.empty() || model.problem().file.empty())
            FAIL("a problem without words");
        return;
    }
    const Mesh& mesh = model->mesh;
    if (mesh.empty() || mesh.triangles.size() > fileBytes || mesh.points.size() > 3 * mesh.triangles.size())
        FAIL("a mesh of impossible size");
    if (!mesh.labels.empty() && mesh.labels.size() != mesh.triangles.size())
        FAIL("labels that don't match");
    for (const Triangle& t : mesh.triangles)
        for (const Index v : t)
            if (v >= mesh.points.size())
                FAIL("a corner out of range");
    for (const Vec3& p : mesh.points)
        if (!std::isfinite(p.x) || !std::isfinite(p.y) || !std::isfinite(p.z))
            FAIL("a point that is not finite");
}

} // namespace

TEST_CASE("read damaged: cut at every length and with bytes flipped, no reader falls")
{
    const std::string kind =
        GENERATE("binary STL", "ASCII STL", "binary PLY", "ASCII PLY", "OBJ", "OFF", "3MF", "3MF model part");
    INFO(kind);
    const Sample sample = sampleOf(kind);
    ScratchFolder scratch;
    const auto file = scratch / sample.name;
    const auto whole = [&](const std::string& bytes) { return sample.packed ? test::threeMfOf(bytes) : bytes; };
    putContent(file, whole(sample.bytes));
    REQUIRE(readModel(file).ok());

    std::size_t read = 0, refused = 0;
    const auto tryOut = [&](const std::string& bytes) {
        putContent(file, whole(bytes));
        const auto model = readModel(file);
        checkSane(model, bytes.size());
        ++(model.ok() ? read : refused);
    };
    for (std::size_t size = 0; size < sample.bytes.size(); ++size)
        tryOut(sample.bytes.substr(0, size));
    CHECK(refused > sample.bytes.size() / 4); // the guard: damage is seen

    std::mt19937 random(20240607);
    const auto below = [&](std::size_t n) { return std::uniform_int_distribution<std::size_t>(0, n - 1)(random); };
    for (int variant = 0; variant < flippedVariants; ++variant) {
        std::string bytes = sample.bytes;
        const std::size_t flips = 1 + below(4);
        for (std::size_t i = 0; i < flips; ++i)
            switch (below(3)) {
            case 0:
                bytes[below(bytes.size())] = static_cast<char>(below(256));
                break;
            case 1: // text stays text
                bytes[below(bytes.size())] = "0123456789-+.e \n#/"[below(18)];
                break;
            default: { // a piece moves
                const std::size_t from = below(bytes.size()), to = below(bytes.size()), n = below(12);
                bytes.insert(to, bytes.substr(from, n));
            }
            }
        tryOut(bytes);
    }
    CHECK(read > 0);
    CHECK(refused > 0);
}

TEST_CASE("read damaged: noise of any length is refused quickly")
{
    ScratchFolder scratch;
    std::mt19937 random(7);
    for (const std::string extension : {".stl", ".obj", ".ply", ".off", ".3mf", ""})
        for (std::size_t size = 1; size < 300'000; size = size * 3 + 1) {
            std::string bytes(size, '\0');
            for (char& c : bytes)
                c = static_cast<char>(random());
            const auto file = scratch / ("noise" + extension);
            putContent(file, bytes);
            const auto model = readModel(file);
            REQUIRE_FALSE(model.ok());
            CHECK_FALSE(model.problem().remedy.empty());
        }
}

TEST_CASE("read damaged: a polygon of very many corners takes no quadratic time")
{
    // A comb: half its corners turn the wrong way, so that no fan will do.
    const int teeth = 20'000;
    std::string text;
    for (int i = 0; i < teeth; ++i)
        text += "v " + std::to_string(i) + " 0 0\nv " + std::to_string(i) + ".5 100 0\n";
    text += "v " + std::to_string(teeth) + " 200 0\nv 0 200 0\nf";
    for (int i = 1; i <= 2 * teeth + 2; ++i)
        text += " " + std::to_string(i);
    const auto model = test::readBytes(text + "\n", ".obj");
    REQUIRE(model.ok());
    CHECK(model->mesh.triangles.size() == 2 * teeth);
    CHECK(model->notes.size() == 1); // its size
}
