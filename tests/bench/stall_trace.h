// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QObject>

#include <array>
#include <atomic>
#include <condition_variable>
#include <mutex>
#include <string>
#include <thread>
#include <vector>

namespace quoin::bench {

/// Where the window's thread is whenever it hasn't looked at its events for longer than a limit: call stacks, taken by
/// a signal. Say `addr2line -Cfpe EXECUTABLE ADDRESS...` with what it prints. One at a time; for Linux and glibc.
class StallTrace : public QObject {
public:
    /// Make it on the thread to be watched.
    explicit StallTrace(double limitMs);
    ~StallTrace() override;
    /// Prints what was caught since the last time.
    void print();

private:
    void watch();

    const double m_limitMs;
    const pthread_t m_watched;
    std::mutex m_lock;
    std::condition_variable m_answer;
    bool m_answered = false, m_stop = false;
    std::vector<std::vector<void*>> m_stacks; ///< under the lock
    std::thread m_thread;
};

} // namespace quoin::bench
