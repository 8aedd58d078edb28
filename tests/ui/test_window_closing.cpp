// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
// The window closed at bad moments: it neither hangs nor crashes, and leaves nothing half written behind.
#include "application.h"

#include "core/design_file.h"
#include "mesh/primitives.h"
#include "mesh/write_model.h"
#include "tests/support/scratch.h"
#include "ui/export_page.h"
#include "ui/file_controller.h"
#include "ui/main_window.h"

#include <QElapsedTimer>
#include <QMessageBox>
#include <QPushButton>
#include <QTest>
#include <QTimer>

#include <catch2/catch.hpp>

using namespace quoin;

namespace {

constexpr qint64 mostMs = 5000; // generous: the machine may be busy

/// A window on a part of 20 thousand triangles, with nothing of the user's read or written.
class ClosingWindow {
public:
    ClosingWindow()
    {
        test::application();
        for (const char* name : {"HOME", "XDG_STATE_HOME", "XDG_CONFIG_HOME"})
            qputenv(name, folder.path().string().c_str());
        window = std::make_unique<ui::MainWindow>();
        test::show(*window, {1200, 800});
    }
    ~ClosingWindow() { REQUIRE_NOTHROW(destroy()); }

    void addPart()
    {
        core::PartDesign part;
        part.name = "ball";
        part.source = std::make_shared<const mesh::Mesh>(mesh::icosphere(90, 5));
        part.scale = 3;
        int id = 0;
        core::Design design = core::withPart({}, part, &id);
        design.beds = {{"small", core::Bed::Shape::Rectangular, 200, 200, 200, 1}};
        bench().document().edit("Add", core::withBoxes(design));
        bench().look([id](ui::ViewState& state) { state.part = id; });
    }
    void cut(double offset)
    {
        bench().document().editPart("Cut", core::withCut(*bench().part(), mesh::planeAt({0.3, 0.2, 1}, offset)));
    }
    bool worked()
    {
        return QTest::qWaitFor(
            [this] {
                const ui::PartWork* work = bench().work();
                return work != nullptr && work->view() && !work->busy();
            },
            30'000);
    }
    ui::Bench& bench() { return window->bench(); }
    /// @return how long it took
    qint64 destroy()
    {
        QElapsedTimer clock;
        clock.start();
        window.reset();
        return clock.elapsed();
    }

    test::ScratchFolder folder;
    std::unique_ptr<ui::MainWindow> window;
};

} // namespace

TEST_CASE("closing the window: while a part is cut, at any moment of it")
{
    for (const int afterMs : {0, 5, 30, 120, 300}) {
        ClosingWindow w;
        w.addPart();
        for (const double offset : {-100.0, 0.0, 100.0})
            w.cut(offset);
        QTest::qWait(afterMs);
        CHECK(w.destroy() < mostMs);
    }
}

TEST_CASE("closing the window: while cuts are looked for")
{
    ClosingWindow w;
    w.addPart();
    REQUIRE(w.worked());
    w.window->actions()["suggest"]->trigger();
    QTest::qWait(200);
    CHECK_FALSE(w.bench().jobs().running().empty());
    CHECK(w.destroy() < mostMs);
}

TEST_CASE("closing the window: while it exports, nothing is left in the folder")
{
    ClosingWindow w;
    w.addPart();
    w.cut(0);
    w.cut(90);
    REQUIRE(w.worked());
    const auto target = w.folder.path() / "pieces";
    auto* page = w.window->findChild<ui::ExportPage*>();
    emit page->exportWanted({QString::fromStdString(target.string()), {w.bench().part()->id}, false, false, true});
    QTest::qWait(100);
    REQUIRE(page->isRunning());
    CHECK(w.destroy() < mostMs);
    CHECK_FALSE(std::filesystem::exists(target));
}

TEST_CASE("closing the window: while it reads a model")
{
    ClosingWindow w;
    const auto file = w.folder.path() / "ball.stl";
    REQUIRE(mesh::writeStl(file, mesh::icosphere(50, 6)).ok());
    w.window->open({QString::fromStdString(file.string())});
    QTest::qWait(20);
    CHECK(w.destroy() < mostMs);
}

TEST_CASE("closing the window: while it saves, the file is whole or not there")
{
    ClosingWindow w;
    w.addPart();
    const auto file = w.folder.path() / "ball.quoin.json";
    w.bench().document().saved(QString::fromStdString(file.string()));
    w.cut(10);
    QTimer answer;
    QObject::connect(&answer, &QTimer::timeout, &answer, [] {
        if (auto* box = qobject_cast<QMessageBox*>(QApplication::activeModalWidget()))
            box->button(QMessageBox::Discard)->click();
    });
    answer.start(20);
    QTimer::singleShot(0, w.window.get(), [&] { w.window->close(); });
    w.window->files().save();
    CHECK(w.destroy() < mostMs);
    if (std::filesystem::exists(file)) {
        core::MeshKeeper keeper;
        CHECK(core::openDesign(file, keeper).ok());
    }
}

TEST_CASE("closing the window: while a copy is kept, no lost session is offered later")
{
    ClosingWindow w;
    w.addPart();
    w.window->files().keepCopy();
    w.bench().document().saved(QString::fromStdString((w.folder.path() / "ball.quoin.json").string()));
    CHECK(w.window->close());
    CHECK(w.destroy() < mostMs);
    const core::RecoveryShelf shelf(core::RecoveryShelf::defaultFolder());
    CHECK(shelf.lost().empty());
}
