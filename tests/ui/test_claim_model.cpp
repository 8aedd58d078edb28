// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "application.h"
#include "proofs.h"

#include "ui/claim_model.h"

#include <QAbstractItemModelTester>
#include <QElapsedTimer>
#include <QTreeView>

#include <catch2/catch.hpp>

using namespace quoin;
using namespace quoin::ui;

namespace {

QString at(const ClaimModel& model, int row, int column, const QModelIndex& parent = {})
{
    return model.index(row, column, parent).data().toString();
}

} // namespace

TEST_CASE("claim model: groups by kind, failed first, every number with its unit")
{
    test::application();
    ClaimModel model;
    const QAbstractItemModelTester tester(&model, QAbstractItemModelTester::FailureReportingMode::Fatal);
    model.setProofs({{"neck", test::smallProof(true)}});
    CHECK(model.allClaims() == 7);
    REQUIRE(model.rowCount() == 4);
    CHECK(at(model, 0, ClaimModel::Checked) == "the wall around the bore, to the side and past its end");
    CHECK(at(model, 0, ClaimModel::Verdict) == "✗ 1 of 2 fail");
    CHECK(at(model, 0, ClaimModel::Of) == "Joints: 2 claims");
    CHECK(at(model, 0, ClaimModel::Measured) == "tightest 1.25 mm");
    CHECK(at(model, 0, ClaimModel::Wanted) == "≥ 2.4 mm");
    const QModelIndex wall = model.index(0, 0);
    REQUIRE(model.rowCount(wall) == 2);
    CHECK(at(model, 0, ClaimModel::Verdict, wall) == "✗ fails");
    CHECK(at(model, 0, ClaimModel::Of, wall) == "joint 2");
    CHECK(at(model, 1, ClaimModel::Verdict, wall) == "✓ holds");
    CHECK(at(model, 1, ClaimModel::Measured, wall) == "3 mm");
    CHECK(model.index(0, 0, wall).parent() == wall);
    CHECK_FALSE(wall.data(ClaimModel::HoldsRole).toBool());
    // The rest keeps the proof's own order.
    CHECK(at(model, 1, ClaimModel::Checked) == "the file can be read");
    CHECK(at(model, 1, ClaimModel::Verdict) == "✓ holds");
}

TEST_CASE("claim model: the filter takes words in any order, and failed claims only")
{
    test::application();
    ClaimModel model;
    const QAbstractItemModelTester tester(&model, QAbstractItemModelTester::FailureReportingMode::Fatal);
    model.setProofs({{"neck", test::smallProof(true)}});
    model.setFilter("  WALL joint ", false);
    CHECK(model.shownClaims() == 2);
    CHECK(model.rowCount() == 1);
    model.setFilter("wall", true);
    CHECK(model.shownClaims() == 1);
    model.setFilter("fails", false);
    CHECK(model.shownClaims() == 1);
    model.setFilter("nothing has this", false);
    CHECK(model.rowCount() == 0);
    model.setFilter({}, false);
    CHECK(model.shownClaims() == 7);
}

TEST_CASE("claim model: of several parts, each claim names its own")
{
    test::application();
    ClaimModel model;
    model.setProofs({{"neck", test::smallProof(false)}, {"wing", test::smallProof(true)}});
    REQUIRE(model.rowCount() == 4); // the same kinds stand together
    CHECK(model.allClaims() == 14);
    CHECK(at(model, 0, ClaimModel::Of, model.index(0, 0)) == "wing: joint 2");
    model.setFilter("wing", false);
    CHECK(model.shownClaims() == 7);
}

TEST_CASE("claim model: tens of thousands of claims are quick to show and to filter")
{
    test::application();
    ClaimModel model;
    QTreeView view;
    view.setUniformRowHeights(true);
    view.setModel(&model);
    test::show(view, {900, 600});
    QElapsedTimer time;
    time.start();
    model.setProofs({{"dragon", test::largeProof(40'000)}});
    const qint64 set = time.restart();
    for (const char* words : {"3", "39", "piece 39", "piece 399"})
        model.setFilter(words, false);
    const qint64 filtered = time.restart() / 4;
    model.setFilter({}, false);
    view.expandAll();
    view.grab();
    const qint64 shown = time.elapsed();
    CAPTURE(set, filtered, shown);
    CHECK(set < 400);
    CHECK(filtered < 100);
    CHECK(shown < 400);
}
