// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/watchdog.h"

namespace quoin::ui {

namespace {

constexpr std::chrono::milliseconds betweenPings{5};

} // namespace

Watchdog::Watchdog(QObject* parent) : QObject(parent), m_thread([this] { watch(); }) {}

Watchdog::~Watchdog()
{
    {
        const std::lock_guard lock(m_lock);
        m_stop = true;
    }
    m_answer.notify_all();
    m_thread.join();
}

void Watchdog::watch()
{
    std::unique_lock lock(m_lock);
    while (!m_stop) {
        m_answered = false;
        lock.unlock();
        QMetaObject::invokeMethod(
            this,
            [this] {
                const std::lock_guard answer(m_lock);
                m_answered = true;
                m_answer.notify_all();
            },
            Qt::QueuedConnection);
        const Clock::time_point asked = Clock::now(); // not before: posting may have to wait for memory itself
        lock.lock();
        m_answer.wait(lock, [this] { return m_answered || m_stop; });
        const double ms = std::chrono::duration<double, std::milli>(Clock::now() - asked).count();
        if (m_answered && ms > m_longestMs)
            m_longestMs = ms;
        m_answer.wait_for(lock, betweenPings, [this] { return m_stop; });
    }
}

} // namespace quoin::ui
