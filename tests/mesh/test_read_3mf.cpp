// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/mass.h"
#include "mesh/model_file.h"
#include "mesh/zip_archive.h"
#include "tests/support/model_text.h"
#include "tests/support/zip_text.h"

#include <catch2/catch.hpp>

using namespace quoin;
using namespace quoin::mesh;
using test::hasNote;
using test::readBytes;
using test::threeMfOf;
using test::zipOf;

namespace {

const std::string tetrahedron =
    "<mesh><vertices><vertex x=\"0\" y=\"0\" z=\"0\"/><vertex x=\"6\" y=\"0\" z=\"0\"/><vertex x=\"0\" y=\"6\" "
    "z=\"0\"/>"
    "<vertex x=\"0\" y=\"0\" z=\"6\"/></vertices><triangles><triangle v1=\"0\" v2=\"2\" v3=\"1\"/>"
    "<triangle v1=\"0\" v2=\"1\" v3=\"3\"/><triangle v1=\"0\" v2=\"3\" v3=\"2\"/><triangle v1=\"1\" v2=\"2\" v3=\"3\"/>"
    "</triangles></mesh>";

std::string object(int id, const std::string& content, const std::string& attributes = "")
{
    return "<object id=\"" + std::to_string(id) + "\" " + attributes + ">" + content + "</object>";
}

std::string item(int id, const std::string& transform = "")
{
    const std::string attribute = transform.empty() ? "" : " transform=\"" + transform + "\"";
    return "<item objectid=\"" + std::to_string(id) + "\"" + attribute + "/>";
}

std::string components(const std::vector<std::pair<int, std::string>>& parts)
{
    std::string out = "<components>";
    for (const auto& [id, transform] : parts)
        out += "<component objectid=\"" + std::to_string(id) + "\"" +
               (transform.empty() ? "" : " transform=\"" + transform + "\"") + "/>";
    return out + "</components>";
}

std::string modelXml(const std::string& objects, const std::string& items, const std::string& unit = "millimeter")
{
    return "<?xml version=\"1.0\" encoding=\"UTF-8\"?><model unit=\"" + unit +
           "\" xml:lang=\"en-US\" xmlns=\"http://schemas.microsoft.com/3dmanufacturing/core/2015/02\"><resources>" +
           objects + "</resources><build>" + items + "</build></model>";
}

Result<Model> readXml(const std::string& objects, const std::string& items, const std::string& unit = "millimeter")
{
    return readBytes(threeMfOf(modelXml(objects, items, unit)), ".3mf");
}

const double volume6 = 36; // 6^3 / 6

} // namespace

TEST_CASE("read 3MF: one object, its name, its unit")
{
    // 3MF core 3.4, attribute unit; the inch is 25.4 mm exactly.
    const auto [unit, asRead, factor] = GENERATE(table<std::string, Unit, double>({
        {"micron", Unit::Micron, 0.001},
        {"millimeter", Unit::Millimetre, 1},
        {"centimeter", Unit::Centimetre, 10},
        {"inch", Unit::Inch, 25.4},
        {"foot", Unit::Foot, 304.8},
        {"meter", Unit::Metre, 1000},
    }));
    INFO(unit);
    const auto model = readXml(object(1, tetrahedron, "type=\"model\" name=\"b\xC3\xA9\x63\""), item(1), unit);
    REQUIRE(model.ok());
    CHECK(model->format == Format::ThreeMf);
    CHECK(model->unit == asRead);
    CHECK(model->names == std::vector<std::string>{"b\xC3\xA9\x63"});
    CHECK(bounds(model->mesh).max.x == Approx(6 * factor));
    CHECK(volume(model->mesh) == Approx(volume6 * factor * factor * factor));
}

TEST_CASE("read 3MF: the caller's unit doesn't overrule the file's")
{
    const auto model =
        readBytes(threeMfOf(modelXml(object(1, tetrahedron), item(1), "centimeter")), ".3mf", {Unit::Inch});
    REQUIRE(model.ok());
    CHECK(model->unit == Unit::Centimetre);
    CHECK(bounds(model->mesh).max.x == Approx(60));
}

TEST_CASE("read 3MF: transforms of items and components are applied, inner first")
{
    // 3MF core 3.3: row vectors, "m00 m01 m02 m10 ... m30 m31 m32", translation last.
    const std::string quarterTurn = "0 1 0 -1 0 0 0 0 1 0 0 0"; // x to y
    const std::string shift = "1 0 0 0 1 0 0 0 1 100 0 0";
    const auto once = readXml(object(1, tetrahedron) + object(2, components({{1, shift}})), item(2, quarterTurn));
    REQUIRE(once.ok());
    CHECK(bounds(once->mesh).min.x == Approx(-6));
    CHECK(bounds(once->mesh).min.y == Approx(100));
    const auto other = readXml(object(1, tetrahedron) + object(2, components({{1, quarterTurn}})), item(2, shift));
    REQUIRE(other.ok());
    CHECK(bounds(other->mesh).min.x == Approx(94));
    CHECK(bounds(other->mesh).max.y == Approx(6));
}

TEST_CASE("read 3MF: a mirroring transform keeps the outside outside")
{
    const std::string mirror = "-1 0 0 0 1 0 0 0 1 0 0 0";
    const auto model = readXml(object(1, tetrahedron) + object(2, components({{1, mirror}, {1, ""}})),
                               item(2) + item(1, "1 0 0 0 1 0 0 0 -1 50 0 0"));
    REQUIRE(model.ok());
    CHECK(volume(model->mesh) == Approx(3 * volume6));
}

TEST_CASE("read 3MF: all items of the build, and nothing that isn't in it")
{
    const auto model = readXml(object(1, tetrahedron, "name=\"a\"") + object(2, tetrahedron, "name=\"b\"") +
                                   object(3, tetrahedron, "name=\"unused\""),
                               item(1) + item(2, "1 0 0 0 1 0 0 0 1 20 0 0") + item(1, "1 0 0 0 1 0 0 0 1 40 0 0"));
    REQUIRE(model.ok());
    CHECK(model->mesh.triangles.size() == 12);
    CHECK(model->names == std::vector<std::string>{"a", "b"});
}

TEST_CASE("read 3MF: supports are left out and remarked on")
{
    const std::string type = GENERATE("support", "solidsupport");
    const auto model = readXml(object(1, tetrahedron) + object(2, tetrahedron, "type=\"" + type + "\""),
                               item(1) + item(2, "1 0 0 0 1 0 0 0 1 20 0 0"));
    REQUIRE(model.ok());
    CHECK(model->mesh.triangles.size() == 4);
    CHECK(hasNote(*model, "1 objects that are supports"));
}

TEST_CASE("read 3MF: an object of type other is not built")
{
    const auto model = readXml(object(1, tetrahedron) + object(2, tetrahedron, "type=\"other\""), item(1) + item(2));
    // The library may refuse the build outright; it must not come out as part of the model.
    if (model.ok())
        CHECK(model->mesh.triangles.size() == 4);
    else
        CHECK(model.problem().reason == Reason::FileMalformed);
}

TEST_CASE("read 3MF: an empty build is an empty file")
{
    CHECK(readXml(object(1, tetrahedron), "").problem().reason == Reason::FileEmpty);
}

TEST_CASE("read 3MF: what the library refuses is refused in its words")
{
    std::string badIndex = tetrahedron, twice = tetrahedron, short1 = tetrahedron;
    badIndex.replace(badIndex.find("v3=\"1\""), 6, "v3=\"9\"");
    twice.replace(twice.find("v2=\"2\""), 6, "v2=\"0\"");
    short1.replace(short1.find("x=\"6\""), 5, "");
    const std::string bytes = GENERATE_COPY(
        threeMfOf(modelXml(object(1, badIndex), item(1))), threeMfOf(modelXml(object(1, twice), item(1))),
        threeMfOf(modelXml(object(1, short1), item(1))), threeMfOf(modelXml(object(1, tetrahedron), item(7))),
        threeMfOf("<model"), threeMfOf(""), zipOf({{"readme.txt", "hello"}}), zipOf({}));
    const auto model = readBytes(bytes, ".3mf");
    REQUIRE_FALSE(model.ok());
    CHECK(model.problem().reason == Reason::FileMalformed);
    CHECK(model.problem().what.find("the 3MF library refuses the file: ") == 0);
    CHECK(model.problem().what.find("error ") != std::string::npos);
}

TEST_CASE("read 3MF: what the library would misread is refused with part and line")
{
    const auto edited = [](const std::string& from, const std::string& to) {
        std::string mesh = tetrahedron;
        return object(1, mesh.replace(mesh.find(from), from.size(), "\n" + to));
    };
    const auto [objects, items, unit, reason,
                line] = GENERATE_COPY(table<std::string, std::string, std::string, Reason, std::string>({
        {edited("x=\"6\"", "x=\"w\""), item(1), "millimeter", Reason::FileMalformed, "line 1"},
        {edited("<vertex x=\"6\"", "<vertex x=\"6,5\""), item(1), "millimeter", Reason::FileMalformed, "line 2"},
        {edited("<vertex x=\"6\"", "<vertex x=\"nan\""), item(1), "millimeter", Reason::NumberNotFinite, "line 2"},
        {edited("<vertex x=\"6\"", "<vertex x=\"\""), item(1), "millimeter", Reason::FileMalformed, "line 2"},
        {edited("<triangle v1=\"1\"", "<triangle v1=\"1x\""), item(1), "millimeter", Reason::FileMalformed, "line 2"},
        {edited("<triangle v1=\"1\"", "<triangle v1=\"-1\""), item(1), "millimeter", Reason::FileMalformed, "line 2"},
        {object(1, tetrahedron), item(1, "1 0 0"), "millimeter", Reason::FileMalformed, "line 1"},
        {object(1, tetrahedron), item(1, "1 0 0 0 1 0 0 0 1 0 0 a"), "millimeter", Reason::FileMalformed, "line 1"},
        {object(1, tetrahedron), item(1), "furlong", Reason::FileMalformed, "line 1"},
    }));
    const auto model = readXml(objects, items, unit);
    REQUIRE_FALSE(model.ok());
    CHECK(model.problem().reason == reason);
    CHECK(model.problem().place == "3D/3dmodel.model, " + line);
}

TEST_CASE("read 3MF: a coordinate past what the library holds")
{
    std::string bad = tetrahedron;
    bad.replace(bad.find("x=\"6\""), 5, "x=\"1e39\"");
    CHECK(readXml(object(1, bad), item(1)).problem().reason == Reason::FileMalformed);
}

TEST_CASE("read 3MF: a file that was cut off lacks its directory")
{
    const std::string whole = threeMfOf(modelXml(object(1, tetrahedron), item(1)));
    const auto model = readBytes(whole.substr(0, whole.size() - 30), ".3mf");
    REQUIRE_FALSE(model.ok());
    CHECK(model.problem().reason == Reason::FileTruncated);
}

TEST_CASE("read 3MF: an archive that would unpack without end is refused")
{
    // Blanks pack a thousandfold; the bound is 64 MB for any file.
    ZipWriter zip;
    zip.begin("3D/3dmodel.model");
    for (int i = 0; i < 70; ++i)
        zip.append(std::string(1 << 20, ' '));
    const std::string trap = *zip.finish();
    REQUIRE(trap.size() < 400'000);
    const auto model = readBytes(trap, ".3mf");
    REQUIRE_FALSE(model.ok());
    CHECK(model.problem().reason == Reason::FileTooLarge);
}

TEST_CASE("read 3MF: components that multiply without end are refused")
{
    std::string objects = object(1, tetrahedron);
    for (int id = 2; id <= 40; ++id)
        objects += object(id, components({{id - 1, ""}, {id - 1, ""}}));
    const auto model = readXml(objects, item(40));
    REQUIRE_FALSE(model.ok());
    CHECK(model.problem().reason == Reason::FileTooLarge);
}

TEST_CASE("read 3MF: components nested deep are refused, not a crash")
{
    std::string objects = object(1, tetrahedron);
    for (int id = 2; id <= 3000; ++id)
        objects += object(id, components({{id - 1, ""}}));
    const auto model = readXml(objects, item(3000));
    REQUIRE_FALSE(model.ok());
    CHECK(model.problem().reason == Reason::FileTooLarge);
}

TEST_CASE("read 3MF: a damaged part is refused")
{
    std::string bytes = threeMfOf(modelXml(object(1, tetrahedron), item(1)));
    const std::size_t at = bytes.find("x=\"6\"") + 3;
    bytes[at] = '7'; // the checksum knows better
    const auto model = readBytes(bytes, ".3mf");
    REQUIRE_FALSE(model.ok());
    CHECK(model.problem().what == "part \"3D/3dmodel.model\" of the archive is damaged");
}

TEST_CASE("read 3MF: objects that are each other's components are refused")
{
    const auto model =
        readXml(object(1, tetrahedron) + object(2, components({{3, ""}})) + object(3, components({{2, ""}})), item(2));
    REQUIRE_FALSE(model.ok());
    CHECK(model.problem().reason == Reason::FileTooLarge);
}

TEST_CASE("read 3MF: an object that is its own component is refused")
{
    const auto model = readXml(object(1, tetrahedron) + object(2, components({{1, ""}, {2, ""}})), item(2));
    CHECK_FALSE(model.ok());
}
