// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
// The window: saving, opening, closing, and the export with its proof.
#include "mesh/mass.h"
#include "mesh/model_file.h"
#include "mesh/write_model.h"
#include "tests/support/shapes.h"
#include "tests/ui/window_fixture.h"
#include "ui/export_page.h"
#include "ui/file_controller.h"
#include "ui/step_bar.h"

#include <QFileDialog>
#include <QTimer>

#include <catch2/catch.hpp>

using namespace quoin;
using test::WindowFixture;

namespace {

struct FilesWindow : WindowFixture {
    void openCutBox()
    {
        open(test::cuboid({0, 0, 0}, {120, 80, 200}));
        core::Design next = design();
        next.beds = {{"b", core::Bed::Shape::Rectangular, 150, 150, 150, 1}};
        next.parts[0] = core::withCut(next.parts[0], {{0, 0, 1}, 100});
        document().edit("Add cut 1", next);
        REQUIRE(settle());
    }
    /// The file dialog that comes next is given this name.
    void nameFile(const QString& name)
    {
        answer([name](QDialog& dialog) {
            auto* edit = dialog.findChild<QLineEdit*>("fileNameEdit");
            REQUIRE(edit != nullptr);
            edit->setText(name);
            QTest::keyClick(edit, Qt::Key_Return);
        });
    }
};

} // namespace

TEST_CASE_METHOD(FilesWindow, "window: an export is written, read back and proved, every claim on its page")
{
    openCutBox();
    key(Qt::Key_E, Qt::ControlModifier);
    REQUIRE(settle());
    auto& page = *find<ui::ExportPage>();
    REQUIRE(page.isVisible());
    QLineEdit* folder = nullptr;
    for (auto* edit : page.form().findChildren<QLineEdit*>())
        if (edit->toolTip().startsWith("The folder"))
            folder = edit;
    REQUIRE(folder != nullptr);
    CHECK(folder->text().startsWith(file("documents"))); // of its own accord
    folder->setText(file("out"));
    shot("window_export_form");
    press(button("Export and prove"));
    CHECK(page.isRunning());
    REQUIRE(settle());
    CHECK_FALSE(page.isRunning());
    const std::filesystem::path out = path("out");
    for (const char* name : {"proof.html", "proof.json", "project.quoin.json"})
        CHECK(std::filesystem::exists(out / name));
    const ui::ClaimModel& claims = page.result().claims();
    CHECK(claims.allClaims() > 20);
    CHECK(claims.shownClaims() == claims.allClaims());
    for (int group = 0; group < claims.rowCount(); ++group)
        CHECK(claims.index(group, 0).data(ui::ClaimModel::HoldsRole).toBool());
    CHECK(says("Proved"));
    // The pieces as the files hold them, read by the model reader: together the box, less its bores and marks.
    double volumeMm3 = 0;
    int files = 0;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(out))
        if (entry.path().extension() == ".stl" && entry.path().filename().string().find("dowel") == std::string::npos) {
            auto model = mesh::readModel(entry.path());
            REQUIRE(model);
            volumeMm3 += mesh::volume(model->mesh);
            ++files;
        }
    CHECK(files == 2);
    CHECK(volumeMm3 < 120. * 80 * 200);
    CHECK(volumeMm3 > 0.97 * 120 * 80 * 200);
    shot("window_export_result");
    // Proved until the design is another one.
    const auto proveStep = [this] { return window().findChild<ui::StepBar*>()->button(ui::StepBar::Prove)->state().progress; };
    CHECK(proveStep() == ui::StepState::Progress::Done);
    core::PartDesign other = part();
    other.quantity = 2;
    document().editPart("Quantity of part", other);
    CHECK(proveStep() == ui::StepState::Progress::Open);
    // The same folder again is refused until replacing is ticked.
    press(page.findChild<QPushButton*>("back"));
    CHECK_FALSE(button("Export and prove")->isEnabled());
    CHECK(says("An earlier export is in"));
}

TEST_CASE_METHOD(FilesWindow, "window: saved, changed, asked, closed, and opened again as it was")
{
    openCutBox();
    nameFile(file("my heron"));
    key(Qt::Key_S, Qt::ControlModifier);
    REQUIRE(settle());
    const QString saved = file("my heron.quoin.json");
    REQUIRE(QFileInfo::exists(saved));
    CHECK(document().file() == saved);
    CHECK_FALSE(window().isWindowModified());
    CHECK(window().windowTitle().startsWith("my heron.quoin.json"));
    const std::string before = test::textOf(design());

    document().editPart("Rename part", [&] {
        core::PartDesign next = part();
        next.name = "other";
        return next;
    }());
    CHECK(window().isWindowModified());
    answer(QMessageBox::Cancel);
    CHECK_FALSE(window().close());
    CHECK(window().isVisible());
    // Another design in its place asks too.
    answer(QMessageBox::Cancel);
    window().open({saved});
    CHECK(part().name == "other");
    answer(QMessageBox::Discard);
    CHECK(window().close());
    drop();

    start();
    CHECK(find<ui::ModelView>()->isVisible() == false);
    CHECK(window().files().lostSessions().empty()); // closed, not lost
    auto* again = named<QAbstractButton>("Open my heron.quoin.json");
    REQUIRE(again != nullptr);
    press(again);
    REQUIRE(settle());
    CHECK(test::textOf(design()) == before);
    CHECK_FALSE(window().isWindowModified());
    CHECK(realised()->project.pieces.size() == 2);
    CHECK_FALSE(action("undo").isEnabled());
    CHECK(window().close());
}

TEST_CASE_METHOD(FilesWindow, "window: closing with Save saves, and a save that fails keeps the window open")
{
    openCutBox();
    answer(QMessageBox::Save);
    // The folder isn't there: nothing can be written, and the window stays.
    std::filesystem::create_directories(path("locked.quoin.json"));
    QTimer::singleShot(60, [this] { nameFile(file("locked.quoin.json")); });
    QTimer::singleShot(1500, [] {
        if (auto* dialog = qobject_cast<QFileDialog*>(QApplication::activeModalWidget()))
            dialog->reject();
    });
    CHECK_FALSE(window().close());
    CHECK(window().isVisible());
    CHECK(window().isWindowModified());

    answer(QMessageBox::Save);
    QTimer::singleShot(100, [this] { nameFile(file("kept")); });
    CHECK(window().close());
    CHECK(QFileInfo::exists(file("kept.quoin.json")));
}

TEST_CASE_METHOD(FilesWindow, "window: everything is undone to the start, and redone; nothing is saved by it")
{
    openCutBox();
    goTo(ui::JobStep::Joint);
    press(button("Take these and change them by hand"));
    REQUIRE(settle());
    const std::string last = test::textOf(design());
    const int edits = document().history().count();
    CHECK(edits >= 3);
    for (int i = 0; i < edits; ++i)
        key(Qt::Key_Z, Qt::ControlModifier);
    REQUIRE(settle());
    CHECK(design().parts.empty());
    CHECK_FALSE(view().isVisible()); // the start page
    CHECK(bench().state().step == ui::JobStep::Load);
    for (int i = 0; i < edits; ++i)
        action("redo").trigger();
    REQUIRE(settle());
    CHECK(test::textOf(design()) == last);
    CHECK(view().isVisible());
}

TEST_CASE_METHOD(FilesWindow, "window: a file that is no model is refused in words, and nothing is lost")
{
    openCutBox();
    const std::string before = test::textOf(design());
    QFile bad(file("letter.stl"));
    REQUIRE(bad.open(QIODevice::WriteOnly));
    bad.write("Dear Sir or Madam");
    bad.close();
    window().open({file("letter.stl"), file("nowhere.stl")});
    REQUIRE(settle());
    CHECK(test::textOf(design()) == before);
    CHECK(find<QWidget>("noteBar")->isVisible());
    CHECK((says("nowhere.stl") || says("letter.stl"))); // whichever was read last
    shot("window_refused");
    // One that must be mended asks first.
    mesh::Mesh open = test::without(test::cube({0, 0, 0}, 50), {0});
    REQUIRE(mesh::writeStl(path("holed.stl"), open).ok());
    window().open({file("holed.stl")});
    REQUIRE(settle());
    auto* box = find<QMessageBox>("askRepair");
    REQUIRE(box != nullptr);
    CHECK(design().parts.size() == 1);
    QTest::keyClick(box, Qt::Key_Return);
    REQUIRE(settle());
    REQUIRE(design().parts.size() == 2);
    CHECK_FALSE(part().repairs.empty());
    CHECK(realised()->project.part.mesh->triangles.size() == 12);
}
