// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QObject>

#include <atomic>
#include <chrono>
#include <condition_variable>
#include <mutex>
#include <thread>

namespace quoin::ui {

/// Measures how long the window's thread goes without looking at its events. A second thread posts an event, waits for
/// it to be handled, and notes the longest wait. For tests, and for users who report a slow window (QUOIN_WATCHDOG=1
/// writes the figure on leaving).
class Watchdog : public QObject {
    Q_OBJECT
public:
    /// Make it on the thread to be watched.
    explicit Watchdog(QObject* parent = nullptr);
    ~Watchdog() override;

    double longestStallMs() const { return m_longestMs.load(); }
    void reset() { m_longestMs = 0; }

private:
    using Clock = std::chrono::steady_clock;
    void watch();

    std::atomic<double> m_longestMs{0};
    std::mutex m_lock;
    std::condition_variable m_answer;
    bool m_answered = false, m_stop = false;
    std::thread m_thread;
};

} // namespace quoin::ui
