// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/plan_pdf.h"

#include "mesh/atomic_file.h"

#include <QGuiApplication>
#include <QPainter>
#include <QPdfWriter>

#include <fmt/format.h>

#include <algorithm>
#include <memory>

namespace quoin::ui {

namespace {

constexpr int dotsPerInch = 300;
constexpr double pageMarginMm = 15;
constexpr double textPoints = 9, headPoints = 13, titlePoints = 18;
constexpr double chartMm = 14; ///< for each machine
constexpr double pictureMm = 70;
constexpr std::size_t machinesOnAChart = 12;

QString qs(const std::string& text)
{
    return QString::fromStdString(text);
}

/// Writes down the page, and on to the next.
class Pages {
public:
    Pages(QPainter& painter, QPdfWriter& writer) : m_painter(painter), m_writer(writer)
    {
        m_width = writer.width();
        m_height = writer.height();
        m_font = painter.font();
        m_font.setFamily(QStringLiteral("DejaVu Sans"));
    }

    double mm(double v) const { return v / 25.4 * dotsPerInch; }
    double width() const { return m_width; }
    double y() const { return m_y; }
    void skip(double v) { m_y += mm(v); }

    /// Begins a new page unless so many millimetres are left.
    void need(double v)
    {
        if (m_y + mm(v) <= m_height || m_y == 0)
            return;
        m_writer.newPage();
        m_y = 0;
    }

    QFont font(double points, bool bold = false) const
    {
        QFont f = m_font;
        f.setPointSizeF(points);
        f.setBold(bold);
        return f;
    }

    /// Words over the width from x on, wrapped; @return their height in dots.
    double words(const QString& text, double points, bool bold = false, double x = 0, double across = 0)
    {
        const double w = across > 0 ? across : m_width - x;
        m_painter.setFont(font(points, bold));
        m_painter.setPen(Qt::black);
        const QRectF whole(x, m_y, w, 1e6);
        QRectF used = m_painter.boundingRect(whole, Qt::TextWordWrap | Qt::AlignLeft | Qt::AlignTop, text);
        if (m_y + used.height() > m_height && m_y > 0) {
            m_writer.newPage();
            m_y = 0;
            used.moveTop(0);
        }
        m_painter.drawText(QRectF(x, m_y, w, used.height() + 1), Qt::TextWordWrap | Qt::AlignLeft | Qt::AlignTop, text);
        return used.height();
    }
    void line(const QString& text, double points = textPoints, bool bold = false, double x = 0)
    {
        m_y += words(text, points, bold, x) + mm(0.8);
    }
    void head(const QString& text)
    {
        need(25);
        skip(3);
        line(text, headPoints, true);
    }

    QPainter& painter() { return m_painter; }

private:
    QPainter& m_painter;
    QPdfWriter& m_writer;
    QFont m_font;
    double m_width = 0, m_height = 0, m_y = 0;
};

void firstPage(Pages& pages, const core::PrintPlan& plan, const std::string& name)
{
    pages.line(qs("Print plan: " + name), titlePoints, true);
    pages.line(qs(fmt::format("From {}{}", core::momentWords(plan.request.start),
                              plan.request.deadline ? ", deadline " + core::momentWords(*plan.request.deadline)
                                                    : std::string())));
    pages.skip(2);
    pages.line(qs(plan.verdict), textPoints + 1, true);
    pages.skip(1);
    for (const std::string& caution : plan.cautions)
        pages.line(QStringLiteral("Caution: ") + qs(caution));
    pages.line(qs(fmt::format("{} pieces ({} printed) on {} plates; {:.1f} kg, {:.0f} machine hours, {:.1f} kWh{}",
                              plan.piecesAll, plan.piecesDone, plan.plates.size(), plan.grams / 1000, plan.hours,
                              plan.energyKwh, plan.cost > 0 ? fmt::format(", {:.2f} of your money", plan.cost) : "")));
    pages.line(qs(plan.reprints.words));
    if (!plan.bars.empty())
        pages.line(qs(fmt::format("No order of these plates ends before {} ({}).", core::momentWords(plan.earliest),
                                  plan.earliestWords)));
}

void chart(Pages& pages, const core::PrintPlan& plan)
{
    if (plan.bars.empty())
        return;
    const double height = 14 + chartMm * static_cast<double>(std::min(plan.request.machines.size(), machinesOnAChart));
    pages.head(QStringLiteral("Machines over the days"));
    pages.need(height);
    pages.painter().setFont(pages.font(textPoints - 1.5));
    paintPlanChart(pages.painter(), QRectF(0, pages.y(), pages.width(), pages.mm(height)), plan);
    pages.skip(height + 1);
    pages.line(QStringLiteral("Light bands: somebody is there. Dashed bars end while nobody is there."),
               textPoints - 1.5);
}

void lists(Pages& pages, const core::PrintPlan& plan)
{
    if (!plan.left.empty()) {
        pages.head(QStringLiteral("What can't be printed"));
        for (const core::PlanLeft& l : plan.left)
            pages.line(qs(plan.job.pieces[l.piece].name + ": " + l.why + "."));
    }
    if (!plan.spools.empty()) {
        pages.head(QStringLiteral("Filament"));
        for (const core::SpoolNeed& s : plan.spools)
            pages.line(qs(s.words + "."));
        for (const core::SpoolChange& c : plan.spoolChanges)
            pages.line(qs(c.words + "."), textPoints - 1, false, pages.mm(4));
    }
    if (!plan.help.empty()) {
        pages.head(QStringLiteral("What would help"));
        for (const core::PlanHelp& h : plan.help)
            pages.line(qs(fmt::format("{}: {}{}.", h.words, core::gainWords(h),
                                      h.assumption.empty() ? "" : fmt::format(" ({})", h.assumption))));
    }
    for (const Note& n : plan.notes)
        pages.line(qs(n.text));
}

/// The picture to the left, times and boxes to the right of it.
void plate(Pages& pages, const core::PrintPlan& plan, const core::PlanBar& bar)
{
    const core::Plate& p = plan.plates[bar.plate];
    const core::Machine& machine = plan.request.machines[bar.machine];
    pages.need(pictureMm + 14);
    pages.skip(3);
    pages.line(qs(fmt::format("Plate {} on {}", p.number, machine.name)), textPoints + 2, true);
    const double top = pages.y();
    pages.painter().setFont(pages.font(textPoints - 1));
    paintPlate(pages.painter(), QRectF(0, top, pages.mm(pictureMm), pages.mm(pictureMm)), plan, bar.plate);
    const double x = pages.mm(pictureMm + 6);
    pages.line(qs(bar.words), textPoints, true, x);
    pages.line(qs(fmt::format("{:.1f} h ({:.1f} to {:.1f} likely), {:.0f} g of {}, recipe {}", bar.hours,
                              p.lowHours / machine.speedFactor, p.highHours / machine.speedFactor, p.grams, p.material,
                              p.recipe)),
               textPoints, false, x);
    pages.line(qs(p.reason), textPoints - 1, false, x);
    constexpr std::size_t besidePicture = 10;
    for (std::size_t i = 0; i < p.pieces.size(); ++i) {
        const core::PlatePieceInfo& piece = plan.job.pieces[p.pieces[i].piece];
        const double left = i < besidePicture ? x : 0;
        if (i == besidePicture)
            pages.skip(std::max(0.0, (top + pages.mm(pictureMm) - pages.y()) / pages.mm(1)) + 1);
        pages.line(qs(fmt::format("\u2610 {}. {}   {:.1f} h, {:.0f} g;  really ____ h ____ g", i + 1, piece.name,
                                  piece.figures.hours, piece.figures.grams)),
                   textPoints, false, left);
    }
    if (pages.y() < top + pages.mm(pictureMm))
        pages.skip((top + pages.mm(pictureMm) - pages.y()) / pages.mm(1));
}

Status written(const core::PrintPlan& plan, const std::string& name, const std::filesystem::path& file)
{
    QPdfWriter writer(QString::fromStdString(file.string()));
    writer.setResolution(dotsPerInch);
    writer.setPageSize(QPageSize(QPageSize::A4));
    writer.setPageMargins(QMarginsF(pageMarginMm, pageMarginMm, pageMarginMm, pageMarginMm), QPageLayout::Millimeter);
    writer.setTitle(qs("Print plan: " + name));
    writer.setCreator(QStringLiteral("Quoin"));
    QPainter painter;
    if (!painter.begin(&writer))
        return Problem{Reason::FileUnwritable,
                       "the PDF can't be written",
                       file.string(),
                       {},
                       "Check the folder and the space on the disk."};
    Pages pages(painter, writer);
    firstPage(pages, plan, name);
    chart(pages, plan);
    lists(pages, plan);
    std::vector<const core::PlanBar*> bars;
    for (const core::PlanBar& b : plan.bars)
        bars.push_back(&b);
    std::stable_sort(bars.begin(), bars.end(), [&](const core::PlanBar* a, const core::PlanBar* b) {
        return plan.plates[a->plate].number < plan.plates[b->plate].number;
    });
    if (!bars.empty())
        pages.head(QStringLiteral("Plates"));
    for (const core::PlanBar* b : bars)
        plate(pages, plan, *b);
    if (!painter.end())
        return Problem{
            Reason::FileUnwritable, "the PDF can't be written", file.string(), {}, "Check the space on the disk."};
    return Done{};
}

} // namespace

Status writePlanPdf(const core::PrintPlan& plan, const std::string& name, const std::filesystem::path& file)
{
    std::unique_ptr<QGuiApplication> own;
    if (QCoreApplication::instance() == nullptr) {
        // Fonts need an application; a printed page needs no display.
        static int argc = 3;
        static char program[] = "quoin", option[] = "-platform", value[] = "offscreen";
        static char* argv[] = {program, option, value, nullptr};
        // What it says of a missing desktop is of no use to anybody here.
        const auto before = qInstallMessageHandler([](QtMsgType, const QMessageLogContext&, const QString&) {});
        own = std::make_unique<QGuiApplication>(argc, argv);
        qInstallMessageHandler(before);
    }
    return mesh::writeAtomically(
        file, [&](const std::filesystem::path& temporary) { return written(plan, name, temporary); });
}

} // namespace quoin::ui
