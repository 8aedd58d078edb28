// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <atomic>
#include <functional>
#include <string_view>
#include <utility>

namespace quoin {

/// Progress and cancel of one job, as one object handed down through the calls. Looked at by: readers (every few
/// thousand elements), health, suggestion, joints, export and proof. Safe to cancel from another thread.
class Context {
public:
    using Listener = std::function<void(double fraction, std::string_view stage)>;

    Context() = default;
    explicit Context(Listener listener) : m_listener(std::move(listener)) {}

    void cancel() { m_cancelled.store(true, std::memory_order_relaxed); }
    bool cancelled() const { return m_cancelled.load(std::memory_order_relaxed); }
    /// fraction from 0 to 1 of the whole job; stage in words ("cutting").
    void report(double fraction, std::string_view stage) const
    {
        if (m_listener)
            m_listener(fraction, stage);
    }

private:
    Listener m_listener;
    std::atomic<bool> m_cancelled{false};
};

} // namespace quoin
