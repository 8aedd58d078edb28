// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/model_file.h"
#include "tests/support/model_text.h"
#include "tests/support/scratch.h"

#include <catch2/catch.hpp>

#include <filesystem>
#include <fstream>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

using namespace quoin;
using namespace quoin::mesh;
using test::contentOf;
using test::hasNote;
using test::readBytes;
using test::reference;
using test::ScratchFolder;

namespace {

const std::string smallObj = "v 0 0 0\nv 10 0 0\nv 0 10 0\nf 1 2 3\n";

std::string objOfSize(const std::string& size)
{
    return "v 0 0 0\nv " + size + " 0 0\nv 0 " + size + " 0\nf 1 2 3\n";
}

} // namespace

TEST_CASE("read file: what is no regular file is missing, and isn't opened")
{
    ScratchFolder scratch;
    REQUIRE(::mkfifo((scratch / "pipe.stl").c_str(), 0600) == 0);
    std::filesystem::create_symlink(scratch / "nowhere.stl", scratch / "dangling.stl");
    const std::vector<std::pair<std::filesystem::path, std::string>> cases{
        {scratch / "none.stl", "no such file"},
        {scratch / "dangling.stl", "no such file"},
        {scratch / "none" / "deeper.stl", "no such file"},
        {scratch.path(), "a folder"},
        {scratch / "pipe.stl", "a pipe"},
        {"/dev/null", "a device"},
        {"/dev/zero", "a device"},
    };
    for (const auto& [file, word] : cases) {
        const auto model = readModel(file);
        REQUIRE_FALSE(model.ok());
        CHECK(model.problem().reason == Reason::FileMissing);
        CHECK(model.problem().what.find(word) != std::string::npos);
        CHECK(model.problem().file == file.string());
        CHECK_FALSE(model.problem().remedy.empty());
    }
}

TEST_CASE("read file: a path through a file, and an empty path")
{
    ScratchFolder scratch;
    test::putContent(scratch / "a.obj", smallObj);
    CHECK(readModel(scratch / "a.obj" / "b.obj").problem().reason == Reason::FileMissing);
    CHECK(readModel("").problem().reason == Reason::FileMissing);
    CHECK(readModel(scratch / std::string(5000, 'x')).problem().reason == Reason::FileUnreadable);
}

TEST_CASE("read file: a file that the user may not read")
{
    ScratchFolder scratch;
    test::putContent(scratch / "secret.obj", smallObj);
    ::chmod((scratch / "secret.obj").c_str(), 0);
    ::chmod(scratch.path().c_str(), 0755);
    // Root may read anything: look through the eyes of another user, in a process of its own.
    const pid_t child = ::fork();
    REQUIRE(child >= 0);
    if (child == 0) {
        if (::geteuid() == 0 && ::seteuid(65534) != 0)
            ::_exit(2);
        const auto model = readModel(scratch / "secret.obj");
        ::_exit(!model.ok() && model.problem().reason == Reason::FileUnreadable ? 0 : 1);
    }
    int status = 0;
    REQUIRE(::waitpid(child, &status, 0) == child);
    CHECK(WIFEXITED(status));
    CHECK(WEXITSTATUS(status) == 0);
}

TEST_CASE("read file: no bytes is an empty file")
{
    for (const std::string extension : {".stl", ".obj", ".ply", ".off", ".3mf", ""})
        CHECK(readBytes("", extension).problem().reason == Reason::FileEmpty);
}

TEST_CASE("read file: the content tells the format, the name draws a remark")
{
    const auto model = readBytes(smallObj, ".stl");
    REQUIRE(model.ok());
    CHECK(model->format == Format::Obj);
    CHECK(hasNote(*model, "the name says \".stl\", the content is OBJ"));
    CHECK(readBytes(contentOf(reference("stl-models/polytopes/cube.bin.stl")), ".3MF")->format == Format::StlBinary);
    CHECK(readBytes(contentOf(reference("stl-models/polytopes/cube.ascii.stl")), ".ply")->format == Format::StlAscii);
    CHECK(readBytes("OFF\n3 1 0\n0 0 0\n10 0 0\n0 10 0\n3 0 1 2\n", ".obj")->format == Format::Off);
    for (const std::string extension : {".obj", ".OBJ", ".dat", ""})
        CHECK(readBytes(smallObj, extension)->notes.empty());
}

TEST_CASE("read file: content of no known format")
{
    const auto [bytes, word] = GENERATE(table<std::string, std::string>({
        {"Dear diary,\n", "text"},
        {"\x1F\x8B\x08", "gzip"},
        {"ISO-10303-21;\nHEADER;", "STEP"},
        {"<?xml version=\"1.0\"?><x/>", "XML"},
        {std::string("\xFF\xFEv\0 \0", 6), "UTF-16"},
        {std::string("glTF\2\0\0\0", 8), "glTF"},
        {std::string("\x7F"
                     "ELF\2\1\1\0",
                     8),
         "8 bytes"},
        {std::string(1000, '\0'), "1000 bytes"},
        {"   \n\n", "text"},
    }));
    INFO(bytes);
    const auto model = readBytes(bytes, ".dat");
    REQUIRE_FALSE(model.ok());
    CHECK(model.problem().reason == Reason::FileUnknownType);
    CHECK(model.problem().what.find(word) != std::string::npos);
    CHECK_FALSE(model.problem().remedy.empty());
}

TEST_CASE("read file: a size that fits no unit draws a hint")
{
    const auto [size, unit, hint] = GENERATE(table<std::string, Unit, std::string>({
        {"0.5", Unit::Millimetre, "may be cm"},         // 5 mm
        {"0.02", Unit::Millimetre, "may be m"},         // 20 mm; 0.2 mm in cm, 0.5 mm in inches
        {"4000000", Unit::Millimetre, "may be micron"}, // 4 m
        {"300", Unit::Inch, "may be cm"},               // 7.6 m in inches, 3 m in cm
        {"200", Unit::Metre, "may be cm"},              // 200 m in metres, 5.08 m in inches, 2 m in cm
    }));
    const auto model = readBytes(objOfSize(size), ".obj", {unit});
    REQUIRE(model.ok());
    INFO(size);
    CHECK(hasNote(*model, hint));
    for (const std::string fine : {"1", "100", "5000"})
        CHECK(readBytes(objOfSize(fine), ".obj")->notes.empty());
}

TEST_CASE("read file: a size past all proportion is refused")
{
    const auto model = readBytes(objOfSize("1e20"), ".obj");
    REQUIRE_FALSE(model.ok());
    CHECK(model.problem().reason == Reason::FileMalformed);
    CHECK(readBytes(objOfSize("1e307"), ".obj", {Unit::Metre}).problem().reason == Reason::NumberNotFinite);
}

TEST_CASE("read file: the unit of the caller scales every format without one")
{
    const auto model = readBytes(smallObj, ".obj", {Unit::Centimetre});
    REQUIRE(model.ok());
    CHECK(model->unit == Unit::Centimetre);
    CHECK(bounds(model->mesh).max == Vec3{100, 100, 0});
}

TEST_CASE("read file: cancelled before and during")
{
    Context context;
    context.cancel();
    for (const std::string name : {"bunny.bin.stl", "bunny.ascii.stl"})
        CHECK(readModel(reference("stl-models/objects/" + name), {}, context).problem().reason == Reason::Cancelled);

    double last = -1;
    Context* self = nullptr;
    Context midway([&](double fraction, std::string_view) {
        CHECK(fraction >= last);
        last = fraction;
        if (fraction > 0.3)
            self->cancel();
    });
    self = &midway;
    CHECK(readModel(reference("stl-models/objects/bunny.ascii.stl"), {}, midway).problem().reason == Reason::Cancelled);
    CHECK(last < 0.7);
}

TEST_CASE("unit: names and sizes")
{
    for (const Unit unit : {Unit::Micron, Unit::Millimetre, Unit::Centimetre, Unit::Inch, Unit::Foot, Unit::Metre})
        CHECK(*unitFromName(unitName(unit)) == unit);
    CHECK(*unitFromName("Inches") == Unit::Inch);
    CHECK(*unitFromName("millimeter") == Unit::Millimetre);
    CHECK(unitFromName("furlong").problem().reason == Reason::BadArgument);
    CHECK(unitFromName("").problem().reason == Reason::BadArgument);
    CHECK(millimetresIn(Unit::Inch) == 25.4);
    CHECK(millimetresIn(Unit::Foot) == Approx(12 * 25.4));
}
