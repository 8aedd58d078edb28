// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "tests/bench/stall_trace.h"
#include "ui/main_window.h"
#include "ui/model_view.h"
#include "ui/watchdog.h"

#include <QElapsedTimer>

#include <functional>
#include <memory>
#include <string>
#include <vector>

namespace quoin::bench {

/// What one phase of the script came to.
struct Phase {
    std::string name;
    double seconds = 0;
    double longestStallMs = 0;
    int frames = 0, fineFrames = 0, sections = 0;
    double longestFrameMs = 0; ///< drawing, coarse ones only
    std::vector<std::pair<std::string, double>> latenciesMs;
};

/// Plays a script in the real window through mouse, keys and widgets, and measures each of its phases.
class WindowPlayer : public QObject {
public:
    /// @param traceLimitMs  stacks of stalls beyond this are printed; 0: none
    explicit WindowPlayer(ui::MainWindow& window, double traceLimitMs = 0);
    ~WindowPlayer() override;

    void phase(const std::string& name, const std::function<void()>& play);
    void latency(const std::string& name, double ms) { m_now.latenciesMs.emplace_back(name, ms); }
    const std::vector<Phase>& phases() const { return m_phases; }
    /// Prints a table; returns the longest stall, ms.
    double print() const;

    // What a script is made of.
    /// Lets the window live for a while.
    void live(int ms);
    /// Until something has come about; prints a line when it takes longer. Returns how long it took, ms.
    double until(const char* what, const std::function<bool()>& done, int mostMs = 60'000);
    /// Until all parts are worked out, joints and all.
    double untilWorked();
    /// Until a picture that was begun after this call has arrived.
    double untilFrame();
    void act(const char* action);
    /// Drags in the view along a path, t from 0 to 1.
    void drag(const std::function<QPointF(double)>& path, int ms, Qt::KeyboardModifiers modifiers = {},
              const std::function<void()>& beforeRelease = {});
    /// The same about the middle of the view: a figure of eight.
    void orbit(int ms);
    void keys(QWidget& field, Qt::Key key, int times, int everyMs);
    void click(QWidget& widget);
    template <class W>
    W& child(const char* name = nullptr)
    {
        return *m_window.findChild<W*>(QString::fromUtf8(name));
    }
    ui::MainWindow& window() { return m_window; }
    ui::ModelView& view() { return *m_view; }
    ui::Bench& bench() { return m_window.bench(); }

private:
    ui::MainWindow& m_window;
    ui::ModelView* m_view;
    ui::Watchdog m_watchdog;
    std::unique_ptr<StallTrace> m_trace;
    Phase m_now;
    std::vector<Phase> m_phases;
    std::shared_ptr<const void> m_section;
    bool m_framesWanted = false;
};

} // namespace quoin::bench
