// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
// A window is killed in the middle of its work, and what it kept is recovered by the next one. The killed window is a
// process of its own: this test's executable, told to run the hidden case below.
#include "mesh/write_model.h"
#include "tests/support/shapes.h"
#include "tests/ui/window_fixture.h"
#include "ui/file_controller.h"

#include <QElapsedTimer>
#include <QFile>
#include <QProcess>

#include <catch2/catch.hpp>

#include <csignal>

using namespace quoin;
using test::WindowFixture;

namespace {

constexpr const char* folderName = "QUOIN_TEST_KILLED_FOLDER";
/// Copies are kept this often in the killed window, so that the test is short; in real life see usualKeepEveryMs.
constexpr int keepEveryMs = 300;

QString inFolder(const char* name)
{
    return qEnvironmentVariable(folderName) + "/" + name;
}

/// A line of the journal: when, in ms, and how many cuts the design had since then.
void note(QFile& journal, const QElapsedTimer& since, std::size_t cuts)
{
    journal.write(QByteArray::number(since.msecsSinceReference() + since.elapsed()) + " " + QByteArray::number(cuts) +
                  "\n");
    journal.flush();
}

} // namespace

TEST_CASE("killed window: edits until it is killed", "[.killed-window]")
{
    REQUIRE(qEnvironmentVariableIsSet(folderName));
    test::application();
    QApplication::setOrganizationName("quoin");
    QApplication::setApplicationName("quoin");
    ui::MainWindow window;
    window.files().setKeepEvery(keepEveryMs);
    test::show(window, {1000, 700});
    window.open({inFolder("block.stl")});
    REQUIRE(QTest::qWaitFor([&] { return window.bench().part() != nullptr; }, 20000));
    QFile journal(inFolder("journal"));
    REQUIRE(journal.open(QIODevice::WriteOnly));
    QElapsedTimer since;
    since.start();
    for (int i = 0; i < 1000; ++i) {
        const core::PartDesign& part = *window.bench().part();
        const mesh::Plane plane{{0, 0, 1}, 1.0 + i};
        window.bench().document().editPart("Add cut", part.cuts.size() < 5 ? core::withCut(part, plane)
                                                                           : core::withCutPlane(part, 1, plane));
        note(journal, since, static_cast<std::size_t>(i));
        QTest::qWait(40);
    }
}

TEST_CASE("window: killed at any moment, it loses nothing that is older than its last copy")
{
    // Half a minute is what may be lost; a copy of a large model takes seconds.
    CHECK(ui::FileController::usualKeepEveryMs <= 10000);
    WindowFixture w;
    CHECK(w.window().files().keepEvery() == ui::FileController::usualKeepEveryMs);
    REQUIRE(mesh::writeStl(w.path("block.stl"), test::sphere({0, 0, 500}, 500, 5)).ok());
    w.document().history().setClean();
    w.window().close();
    w.drop();
    int round = 0;
    for (const int afterMs : {900, 1470}) {
        CAPTURE(afterMs);
        QFile::remove(w.file("journal"));
        QProcess child;
        QProcessEnvironment environment = QProcessEnvironment::systemEnvironment();
        environment.insert(folderName, w.file(""));
        child.setProcessEnvironment(environment);
        child.setProcessChannelMode(QProcess::ForwardedChannels);
        child.start(QCoreApplication::applicationFilePath(), {"[.killed-window]"});
        REQUIRE(child.waitForStarted());
        const auto lines = [&] {
            QFile journal(w.file("journal"));
            return journal.open(QIODevice::ReadOnly) ? journal.readAll().split('\n') : QList<QByteArray>{};
        };
        REQUIRE(QTest::qWaitFor([&] { return lines().size() > 3; }, 30000));
        QTest::qWait(afterMs);
        REQUIRE(child.state() == QProcess::Running);
        ::kill(static_cast<pid_t>(child.processId()), SIGKILL);
        child.waitForFinished();
        QList<QByteArray> journal = lines();
        journal.removeLast(); // what is after the last end of line

        w.start();
        const auto lost = w.window().files().lostSessions();
        REQUIRE(lost.size() == 1);
        CHECK_FALSE(lost[0].problem);
        CHECK(w.says("a design that was never saved"));
        const auto buttons = w.window().findChildren<QAbstractButton*>();
        const auto restore = std::find_if(buttons.begin(), buttons.end(), [](const QAbstractButton* b) {
            return b->accessibleName().startsWith("Restore ") && b->isVisible();
        });
        REQUIRE(restore != buttons.end());
        if (round++ == 0)
            w.shot("window_recovery");
        w.press(*restore);
        REQUIRE(w.settle());
        CHECK(w.part().source->triangles.size() == 8 * 1024);
        // Which edit it is, by the plane that it moved.
        const auto& cuts = w.part().cuts;
        REQUIRE_FALSE(cuts.empty());
        const auto edit = static_cast<int>(std::lround(cuts.size() < 5 ? cuts.back().plane.offset
                                                                       : std::max(cuts[0].plane.offset, 5.0))) -
                          1;
        REQUIRE(edit >= 0);
        REQUIRE(edit < journal.size());
        CHECK(cuts.size() == static_cast<std::size_t>(std::min(edit + 1, 5)));
        // When the first edit that is lost was made, before the last one.
        const auto time = [&](qsizetype line) { return journal[line].split(' ')[0].toLongLong(); };
        const qint64 lostMs = edit + 1 < journal.size() ? time(journal.size() - 1) - time(edit + 1) : 0;
        INFO("edit " << edit << " of " << journal.size());
        CHECK(lostMs < keepEveryMs + 1000);
        // It is changed work: it asks to be saved, and the session that was lost is not offered again.
        CHECK(w.window().isWindowModified());
        CHECK(w.action("undo").text().contains("Recover the lost session"));
        CHECK(w.window().files().lostSessions().empty());
        w.document().history().setClean();
        w.window().close();
        w.drop();
    }
}

TEST_CASE_METHOD(WindowFixture, "window: a copy is kept some time after a change, by itself")
{
    window().files().setKeepEvery(100);
    open(test::cuboid({0, 0, 0}, {30, 20, 40}));
    const auto kept = [this] {
        for (const auto& entry : std::filesystem::recursive_directory_iterator(path("state")))
            if (entry.path().string().ends_with(".quoin.json"))
                return entry.path();
        return std::filesystem::path();
    };
    REQUIRE(QTest::qWaitFor([&] { return !kept().empty(); }, 5000));
    action("cutZ").trigger();
    REQUIRE(QTest::qWaitFor(
        [&] {
            QFile file(QString::fromStdString(kept().string()));
            return file.open(QIODevice::ReadOnly) && file.readAll().contains("\"cuts\": [\n");
        },
        5000));
    // As if it had been killed: the next one offers it, and may throw it away.
    drop();
    start();
    REQUIRE(window().files().lostSessions().size() == 1);
    for (QAbstractButton* b : window().findChildren<QAbstractButton*>())
        if (b->accessibleName().startsWith("Discard "))
            press(b);
    CHECK(window().files().lostSessions().empty());
    CHECK(kept().empty());
}
