// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/bench/window_player.h"

#include <QAction>
#include <QEventLoop>
#include <QTest>
#include <QTimer>

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <numbers>

namespace quoin::bench {

namespace {

/// A mouse that is moved tells its place about so often.
constexpr int mouseEveryMs = 8;

} // namespace

WindowPlayer::WindowPlayer(ui::MainWindow& window, double traceLimitMs)
    : m_window(window), m_view(window.findChild<ui::ModelView*>())
{
    if (traceLimitMs > 0)
        m_trace = std::make_unique<StallTrace>(traceLimitMs);
    connect(m_view, &ui::ModelView::frameShown, this, [this](const ui::Frame& frame) {
        ++(frame.fine ? m_now.fineFrames : m_now.frames);
        if (!frame.fine)
            m_now.longestFrameMs = std::max(m_now.longestFrameMs, frame.drawMs);
    });
    connect(&window.bench(), &ui::Bench::looked, this, [this] {
        const auto& section = bench().state().liveSection;
        if (section && section != m_section)
            ++m_now.sections;
        m_section = section;
    });
}

WindowPlayer::~WindowPlayer() = default;

void WindowPlayer::phase(const std::string& name, const std::function<void()>& play)
{
    m_now = {};
    m_now.name = name;
    m_watchdog.reset();
    QElapsedTimer clock;
    clock.start();
    play();
    live(30); // what it left behind belongs to it
    m_now.seconds = static_cast<double>(clock.elapsed()) / 1e3;
    m_now.longestStallMs = m_watchdog.longestStallMs();
    if (m_trace) {
        fmt::print("{}: {:.0f} ms\n", name, m_now.longestStallMs);
        m_trace->print();
    }
    m_phases.push_back(m_now);
}

double WindowPlayer::print() const
{
    double longest = 0;
    fmt::print("  {:<34} {:>6} {:>9} {:>8} {:>9} {:>10}\n", "phase", "s", "stall ms", "frames/s", "frame ms",
               "sections/s");
    for (const Phase& p : m_phases) {
        fmt::print("  {:<34} {:6.1f} {:9.0f} {:8.1f} {:9.0f}", p.name, p.seconds, p.longestStallMs,
                   (p.frames + p.fineFrames) / p.seconds, p.longestFrameMs);
        if (p.sections > 0)
            fmt::print(" {:10.1f}", p.sections / p.seconds);
        for (const auto& [what, ms] : p.latenciesMs)
            fmt::print("  {} {:.0f} ms", what, ms);
        fmt::print("\n");
        longest = std::max(longest, p.longestStallMs);
    }
    std::fflush(stdout);
    return longest;
}

void WindowPlayer::live(int ms)
{
    QEventLoop loop;
    QTimer::singleShot(ms, &loop, &QEventLoop::quit);
    loop.exec();
}

double WindowPlayer::until(const char* what, const std::function<bool()>& done, int mostMs)
{
    QElapsedTimer clock;
    clock.start();
    while (!done() && clock.elapsed() < mostMs)
        live(2);
    if (!done())
        fmt::print("  given up: {}\n", what);
    return static_cast<double>(clock.nsecsElapsed()) / 1e6;
}

double WindowPlayer::untilWorked()
{
    return until("all parts worked out", [this] {
        for (const core::PartDesign& part : bench().design().parts) {
            const ui::PartWork* work = bench().document().work(part.id);
            if (work == nullptr || work->busy() || !work->source() || !work->view())
                return false;
        }
        return true;
    });
}

double WindowPlayer::untilFrame()
{
    const int before = m_now.frames + m_now.fineFrames;
    return until(
        "a picture", [&] { return m_now.frames + m_now.fineFrames > before; }, 5000);
}

void WindowPlayer::act(const char* action)
{
    m_window.actions()[QString::fromUtf8(action)]->trigger();
}

void WindowPlayer::drag(const std::function<QPointF(double)>& path, int ms, Qt::KeyboardModifiers modifiers,
                        const std::function<void()>& beforeRelease)
{
    QElapsedTimer clock;
    clock.start();
    QTest::mousePress(m_view, Qt::LeftButton, modifiers, path(0).toPoint());
    while (clock.elapsed() < ms) {
        live(mouseEveryMs);
        const QPointF at = path(std::min(1.0, static_cast<double>(clock.elapsed()) / ms));
        QMouseEvent move(QEvent::MouseMove, at, m_view->mapToGlobal(at), Qt::NoButton, Qt::LeftButton, modifiers);
        QCoreApplication::sendEvent(m_view, &move);
    }
    if (beforeRelease)
        beforeRelease();
    QTest::mouseRelease(m_view, Qt::LeftButton, modifiers, path(1).toPoint());
}

void WindowPlayer::orbit(int ms)
{
    const QPointF middle = m_view->rect().center();
    drag(
        [middle](double t) {
            const double a = 2 * std::numbers::pi * t;
            return middle + QPointF(220 * std::sin(a), 120 * std::sin(2 * a));
        },
        ms);
}

void WindowPlayer::keys(QWidget& field, Qt::Key key, int times, int everyMs)
{
    field.setFocus();
    for (int i = 0; i < times; ++i) {
        QTest::keyClick(&field, key);
        live(everyMs);
    }
}

void WindowPlayer::click(QWidget& widget)
{
    QTest::mouseClick(&widget, Qt::LeftButton);
}

} // namespace quoin::bench
