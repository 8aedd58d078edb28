// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/design_file.h"
#include "core/file_hash.h"
#include "tests/support/designs.h"
#include "tests/support/model_text.h"
#include "tests/support/scratch.h"
#include "tests/support/shapes.h"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <csignal>
#include <set>
#include <sys/resource.h>

using namespace quoin;
using namespace quoin::core;
namespace fs = std::filesystem;

namespace {

std::set<std::string> namesIn(const fs::path& folder)
{
    std::set<std::string> names;
    for (const auto& entry : fs::directory_iterator(folder))
        names.insert(entry.path().filename().string());
    return names;
}

nlohmann::json jsonOf(const fs::path& file)
{
    return nlohmann::json::parse(test::contentOf(file));
}

/// No file can grow past so many bytes while this lives: a disk that fills up.
class FullDisk {
public:
    explicit FullDisk(rlim_t bytes) : m_signal(std::signal(SIGXFSZ, SIG_IGN))
    {
        getrlimit(RLIMIT_FSIZE, &m_before);
        const rlimit small{bytes, m_before.rlim_max};
        setrlimit(RLIMIT_FSIZE, &small);
    }
    ~FullDisk()
    {
        setrlimit(RLIMIT_FSIZE, &m_before);
        std::signal(SIGXFSZ, m_signal);
    }
    FullDisk(const FullDisk&) = delete;
    FullDisk& operator=(const FullDisk&) = delete;

private:
    rlimit m_before{};
    void (*m_signal)(int);
};

Design named(Design d, const std::string& name)
{
    d.parts[0].name = name;
    return d;
}

Design reshaped(Design d, double side)
{
    d.parts[0].source = std::make_shared<const mesh::Mesh>(test::cube({0, 0, 0}, side));
    return d;
}

std::string openedName(const fs::path& file)
{
    MeshKeeper keeper;
    const auto opened = openDesign(file, keeper);
    return opened ? opened->design.parts[0].name : opened.problem().sentence();
}

} // namespace

TEST_CASE("design file: saved and opened, meshes exactly")
{
    const test::ScratchFolder folder;
    const Design d = test::fullDesign();
    MeshKeeper keeper, other;
    REQUIRE(saveDesign(d, folder / "heron.quoin.json", keeper).ok());
    CHECK(namesIn(folder.path()) == std::set<std::string>{"heron.quoin.json", "heron.quoin-meshes"});
    const auto opened = openDesign(folder / "heron.quoin.json", other);
    REQUIRE(opened.ok());
    CHECK(opened->notes.empty());
    CHECK(opened->file == folder / "heron.quoin.json");
    REQUIRE(opened->design.parts.size() == 2);
    for (std::size_t i = 0; i < 2; ++i)
        CHECK(test::same(*opened->design.parts[i].source, *d.parts[i].source));
    CHECK(opened->design.parts[0].keepClear == d.parts[0].keepClear);
    // Saved again unchanged, the document is the same to the byte.
    const std::string before = test::contentOf(folder / "heron.quoin.json");
    REQUIRE(saveDesign(opened->design, folder / "heron.quoin.json", other).ok());
    CHECK(test::contentOf(folder / "heron.quoin.json") == before);
}

TEST_CASE("design file: meshes are named by the SHA-256 of their content, and written once")
{
    const test::ScratchFolder folder;
    const auto file = folder / "a.quoin.json";
    MeshKeeper keeper;
    REQUIRE(saveDesign(test::smallDesign(), file, keeper).ok());
    const auto reference = jsonOf(file)["parts"][0]["mesh"];
    const fs::path mesh = folder.path() / reference["file"].get<std::string>();
    CHECK(mesh.stem() == reference["sha256"].get<std::string>());
    CHECK(sha256OfFile(mesh).value() == reference["sha256"].get<std::string>());
    const auto written = fs::last_write_time(mesh);
    REQUIRE(saveDesign(named(test::smallDesign(), "other"), file, keeper).ok());
    MeshKeeper stranger;
    REQUIRE(saveDesign(named(test::smallDesign(), "third"), file, stranger).ok());
    CHECK(fs::last_write_time(mesh) == written);
    CHECK(openedName(file) == "third");
    // Cut short behind our back, it is written anew.
    fs::resize_file(mesh, 100);
    REQUIRE(saveDesign(named(test::smallDesign(), "fourth"), file, keeper).ok());
    CHECK(openedName(file) == "fourth");
}

TEST_CASE("design file: two parts of one mesh share its file; a mesh no longer used goes")
{
    const test::ScratchFolder folder;
    const auto file = folder / "a.quoin.json", meshes = folder / "a.quoin-meshes";
    MeshKeeper keeper;
    Design d = test::smallDesign();
    d = withPart(d, d.parts[0]);
    REQUIRE(saveDesign(d, file, keeper).ok());
    CHECK(namesIn(meshes).size() == 1);
    const std::string first = *namesIn(meshes).begin();
    test::putContent(meshes / "notes.txt", "the user's own");
    test::putContent(meshes / (std::string(64, 'f') + ".ply"), "of someone else");
    REQUIRE(saveDesign(reshaped(test::smallDesign(), 50), file, keeper).ok());
    CHECK(namesIn(meshes).count(first) == 0);
    CHECK(namesIn(meshes).size() == 3); // the new one, and what no version of the file had named
    CHECK(openedName(file) == "box");
}

TEST_CASE("design file: a copy beside it keeps its mesh")
{
    const test::ScratchFolder folder;
    const auto file = folder / "a.quoin.json", copy = folder / "before.quoin.json";
    MeshKeeper keeper;
    REQUIRE(saveDesign(named(test::smallDesign(), "first"), file, keeper).ok());
    fs::copy_file(file, copy);
    REQUIRE(saveDesign(reshaped(test::smallDesign(), 50), file, keeper).ok());
    CHECK(openedName(copy) == "first");
    // Saved under its own name, the copy gets meshes of its own and leaves the other's alone.
    REQUIRE(saveDesign(reshaped(test::smallDesign(), 70), copy, keeper).ok());
    CHECK(openedName(file) == "box");
    CHECK(openedName(copy) == "box");
}

TEST_CASE("design file: a mesh missing, cut short, changed or of another length")
{
    const test::ScratchFolder folder;
    const auto file = folder / "a.quoin.json";
    MeshKeeper keeper;
    REQUIRE(saveDesign(test::fullDesign(), file, keeper).ok());
    const fs::path mesh = folder.path() / jsonOf(file)["parts"][1]["mesh"]["file"].get<std::string>();
    const std::string good = test::contentOf(mesh);
    const auto opened = [&] {
        MeshKeeper fresh;
        return openDesign(file, fresh);
    };
    const auto refused = [&](Reason reason) {
        const auto r = opened();
        REQUIRE_FALSE(r.ok());
        CHECK(r.problem().reason == reason);
        CHECK(r.problem().file == mesh.string());
        CHECK(r.problem().what.find("base") != std::string::npos); // the part
        CHECK_FALSE(r.problem().remedy.empty());
    };
    fs::resize_file(mesh, good.size() / 2);
    refused(Reason::FileMalformed);
    std::string changed = good;
    changed[good.size() / 2] = static_cast<char>(changed[good.size() / 2] ^ 1);
    test::putContent(mesh, changed);
    refused(Reason::FileMalformed);
    fs::remove(mesh);
    refused(Reason::FileMissing);
    test::putContent(mesh, good);
    REQUIRE(opened().ok());
    auto j = jsonOf(file);
    j["parts"][1]["mesh"]["triangles"] = 13;
    test::putContent(file, j.dump());
    refused(Reason::FileMalformed);
}

TEST_CASE("design file: a lost mesh is named, and the model found again takes its place")
{
    const test::ScratchFolder folder;
    const auto file = folder / "a.quoin.json";
    MeshKeeper keeper;
    const Design d = test::fullDesign();
    REQUIRE(saveDesign(d, file, keeper).ok());
    fs::remove(folder.path() / jsonOf(file)["parts"][0]["mesh"]["file"].get<std::string>());
    OpenOptions options;
    options.lostMeshes = true;
    auto opened = openDesign(file, keeper, options);
    REQUIRE(opened.ok());
    REQUIRE(opened->lost.size() == 1);
    CHECK(opened->lost[0].part == 3);
    CHECK(opened->lost[0].sourceFile == d.parts[0].sourceFile);
    CHECK(opened->lost[0].sourceSha256 == d.parts[0].sourceSha256);
    CHECK(opened->lost[0].problem.reason == Reason::FileMissing);
    CHECK(opened->design.parts[0].source == nullptr);
    CHECK(opened->design.parts[1].source != nullptr);

    options.instead[3] = std::make_shared<const mesh::Mesh>(*d.parts[0].source); // the very one
    opened = openDesign(file, keeper, options);
    REQUIRE(opened.ok());
    CHECK(opened->lost.empty());
    CHECK(opened->notes.empty());
    CHECK(opened->design.parts[0].keepClear == d.parts[0].keepClear);

    options.instead[3] = std::make_shared<const mesh::Mesh>(test::cube({0, 0, 0}, 9)); // another
    opened = openDesign(file, keeper, options);
    REQUIRE(opened.ok());
    CHECK(opened->notes.size() == 1);
    CHECK(opened->design.parts[0].keepClear.empty());
    CHECK(opened->design.parts[0].cuts.size() == 3);
}

TEST_CASE("design file: never over something that is not an earlier design")
{
    const test::ScratchFolder folder;
    MeshKeeper keeper;
    const auto refused = [&](const std::string& content) {
        const auto file = folder / "taken.quoin.json";
        test::putContent(file, content);
        const Status s = saveDesign(test::smallDesign(), file, keeper);
        REQUIRE_FALSE(s.ok());
        CHECK(s.problem().reason == Reason::FileExists);
        CHECK(test::contentOf(file) == content);
    };
    refused("poems");
    refused("{\"kind\": \"quoin project\", \"version\": 1}");
    refused("{\"kind\": \"quoin design\", \"version\": 3}");
    fs::remove(folder / "taken.quoin.json");
    fs::create_directory(folder / "taken.quoin.json");
    CHECK(saveDesign(test::smallDesign(), folder / "taken.quoin.json", keeper).problem().reason == Reason::FileExists);
    for (const char* name : {"a.json", ".quoin.json", "project.quoin.json"})
        CHECK(saveDesign(test::smallDesign(), folder / name, keeper).problem().reason == Reason::BadArgument);
    CHECK(withDesignSuffix("x/heron") == "x/heron.quoin.json");
    CHECK(withDesignSuffix("x/heron.json") == "x/heron.quoin.json");
    CHECK(withDesignSuffix("x/heron.quoin.json") == "x/heron.quoin.json");
    CHECK(designName("x/my heron.quoin.json") == "my heron");
}

TEST_CASE("design file: what could not be read again is not written")
{
    const test::ScratchFolder folder;
    const auto file = folder / "a.quoin.json";
    MeshKeeper keeper;
    REQUIRE(saveDesign(named(test::smallDesign(), "good"), file, keeper).ok());
    Design d = test::smallDesign();
    d.parts[0].cuts[0].plane.offset = std::nan("");
    const Status s = saveDesign(d, file, keeper);
    REQUIRE_FALSE(s.ok());
    CHECK(s.problem().reason == Reason::BadArgument);
    CHECK(s.problem().place == "/parts/0/cuts/0/offset_mm");
    CHECK(openedName(file) == "good");
}

TEST_CASE("design file: a disk that fills up, in the mesh or in the document, harms nothing")
{
    const test::ScratchFolder folder;
    const auto file = folder / "a.quoin.json";
    MeshKeeper keeper;
    Design big = named(test::smallDesign(), "big");
    big.parts[0].source = std::make_shared<const mesh::Mesh>(test::sphere({0, 0, 0}, 9, 5));
    REQUIRE(saveDesign(named(test::smallDesign(), "good"), file, keeper).ok());
    const std::set<std::string> before = namesIn(folder / "a.quoin-meshes");
    {
        const FullDisk full(20'000);
        const Status s = saveDesign(big, file, keeper);
        REQUIRE_FALSE(s.ok());
        CHECK(s.problem().reason == Reason::FileUnwritable);
    }
    CHECK(namesIn(folder / "a.quoin-meshes") == before); // nothing half written
    CHECK(openedName(file) == "good");
    {
        const FullDisk full(500); // the mesh is there, the document is longer
        const Status s = saveDesign(named(test::smallDesign(), "late"), file, keeper);
        REQUIRE_FALSE(s.ok());
        CHECK(s.problem().reason == Reason::FileUnwritable);
    }
    CHECK(openedName(file) == "good");
    CHECK(namesIn(folder.path()).size() == 2);
    REQUIRE(saveDesign(big, file, keeper).ok());
    CHECK(openedName(file) == "big");
}

TEST_CASE("design file: a folder that can't be made, or isn't there")
{
    const test::ScratchFolder folder;
    MeshKeeper keeper;
    test::putContent(folder / "a.quoin-meshes", "a file in the way");
    const Status inTheWay = saveDesign(test::smallDesign(), folder / "a.quoin.json", keeper);
    CHECK(inTheWay.problem().reason == Reason::FileUnwritable);
    CHECK(test::contentOf(folder / "a.quoin-meshes") == "a file in the way");
    CHECK_FALSE(fs::exists(folder / "a.quoin.json"));
    fs::remove(folder / "a.quoin-meshes");
    fs::create_symlink("/dev/full", folder / "a.quoin-meshes");
    CHECK(saveDesign(test::smallDesign(), folder / "a.quoin.json", keeper).problem().reason == Reason::FileUnwritable);
    CHECK(openDesign(folder / "none.quoin.json", keeper).problem().reason == Reason::FileMissing);
    CHECK(openDesign(folder.path(), keeper).problem().reason == Reason::FileMissing); // no export in it
    CHECK(openDesign("/dev/zero", keeper).problem().reason == Reason::FileMissing);
}

TEST_CASE("design file: a foreign program reads it")
{
    const test::ScratchFolder folder;
    MeshKeeper keeper;
    const auto file = folder / "heron.quoin.json";
    REQUIRE(saveDesign(test::fullDesign(), file, keeper).ok());
    // Python's own json, hashlib and struct modules.
    const std::string program = "import json,hashlib,os,sys\n"
                                "f=sys.argv[1]; d=json.load(open(f,encoding='utf-8'))\n"
                                "assert d['kind']=='quoin design' and d['version']==3 and d['unit']=='mm'\n"
                                "p=d['parts'][0]\n"
                                "assert p['name']=='neck \"quoted\" <tag> \\u00e4' and p['scale']==7/3\n"
                                "assert bytes.fromhex(p['source_file']['hex'])==b'models/l\\xe4nge.stl'\n"
                                "for p in d['parts']:\n"
                                "  b=open(os.path.join(os.path.dirname(f),p['mesh']['file']),'rb').read()\n"
                                "  assert hashlib.sha256(b).hexdigest()==p['mesh']['sha256']\n"
                                "  assert b.startswith(b'ply\\nformat binary_little_endian 1.0\\n')\n"
                                "  assert ('element face %d\\n'%p['mesh']['triangles']).encode() in b\n";
    test::putContent(folder / "read.py", program);
    const std::string command = "python3 '" + (folder / "read.py").string() + "' '" + file.string() + "'";
    CHECK(std::system(command.c_str()) == 0);
}

TEST_CASE("design file: any one byte changed, or the file cut anywhere, does no harm")
{
    const test::ScratchFolder folder;
    MeshKeeper keeper;
    const auto file = folder / "a.quoin.json";
    REQUIRE(saveDesign(test::fullDesign(), file, keeper).ok());
    const std::string good = test::contentOf(file);
    std::size_t refused = 0;
    for (std::size_t i = 0; i + 1 < good.size(); i += 11) { // less the last line break it is whole
        std::string bad = good;
        bad[i] = static_cast<char>(33 + (i * 37) % 90);
        test::putContent(file, bad);
        const auto r = openDesign(file, keeper);
        refused += !r.ok();
        test::putContent(file, good.substr(0, i));
        CHECK_FALSE(openDesign(file, keeper).ok());
    }
    CHECK(refused > good.size() / 11 / 3);
}
