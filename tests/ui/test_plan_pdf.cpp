// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/support/model_text.h"
#include "tests/support/scratch.h"
#include "tests/support/shop.h"
#include "tests/ui/application.h"
#include "ui/plan_pdf.h"

#include <QImage>
#include <QPainter>

#include <catch2/catch.hpp>

#include <functional>

using namespace quoin;

namespace {

core::PrintPlan aPlan(std::size_t pieces)
{
    std::vector<test::Slab> list(pieces, test::Slab{11, 200, 250});
    list.push_back({0.5, 30, 30});
    const auto plan = core::planPrinting(test::slabs(list), test::request());
    REQUIRE(plan);
    return *plan;
}

QImage painted(const std::function<void(QPainter&, const QRectF&)>& paint)
{
    QImage image(600, 600, QImage::Format_RGB32);
    image.fill(Qt::white);
    QPainter painter(&image);
    paint(painter, QRectF(0, 0, 600, 600));
    return image;
}

/// Share of the picture's points that have a colour.
double share(const QImage& image, QRgb colour)
{
    int count = 0;
    for (int y = 0; y < image.height(); ++y)
        for (int x = 0; x < image.width(); ++x)
            count += image.pixel(x, y) == colour ? 1 : 0;
    return static_cast<double>(count) / (image.width() * image.height());
}

} // namespace

TEST_CASE("plan pdf: written whole, and not over what can't be written")
{
    test::application();
    const test::ScratchFolder scratch;
    const auto plan = aPlan(5);
    const auto file = scratch / "plan.pdf";
    REQUIRE(ui::writePlanPdf(plan, "heron", file));
    const std::string text = test::contentOf(file);
    CHECK(text.substr(0, 5) == "%PDF-");
    CHECK(text.find("%%EOF") != std::string::npos);
    REQUIRE(ui::writePlanPdf(plan, "heron", file)); // again
    CHECK_FALSE(ui::writePlanPdf(plan, "heron", scratch / "nowhere/plan.pdf"));
    auto done = plan;
    done.plates.clear();
    done.bars.clear();
    done.help.clear();
    CHECK(ui::writePlanPdf(done, "heron", file)); // everything printed
}

TEST_CASE("plan pdf: a plate is drawn true to its proportions")
{
    test::application();
    const auto plan = aPlan(1);
    std::size_t large = plan.plates[0].pieces.size() == 1 && plan.plates[0].hours > 5 ? 0 : 1;
    const QImage image = painted([&](QPainter& p, const QRectF& area) { ui::paintPlate(p, area, plan, large); });
    // 200 x 250 mm of a plate of 300 x 300 mm, less what the number covers.
    CHECK(share(image, 0xff9db8d3) == Approx(200.0 * 250 / (300 * 300)).margin(0.01));
}

TEST_CASE("plan pdf: the chart shows bars, hours attended and the deadline")
{
    test::application();
    const auto plan = aPlan(6);
    const QImage image = painted([&](QPainter& p, const QRectF& area) { ui::paintPlanChart(p, area, plan); });
    CHECK(share(image, 0xff9db8d3) > 0.005); // the first bar
    CHECK(share(image, 0xffeef3e6) > 0.05);  // somebody is there: 50 of 168 hours
    CHECK(share(image, 0xffb00020) > 0.0005);
}
