// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <algorithm>
#include <atomic>
#include <cstddef>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

namespace quoin::core {

/// Calls work(i) for i from 0 to count - 1 on all cores, in no order; returns when all are done. Each call writes to
/// its own place only. The first exception is handed on.
template <class Work>
void forEachIndex(std::size_t count, const Work& work)
{
    const std::size_t threads = std::min<std::size_t>(std::max(1u, std::thread::hardware_concurrency()), count);
    std::atomic<std::size_t> next{0};
    std::exception_ptr failed;
    std::mutex guard;
    const auto run = [&] {
        try {
            for (std::size_t i = next++; i < count; i = next++)
                work(i);
        } catch (...) {
            const std::lock_guard<std::mutex> lock(guard);
            if (!failed)
                failed = std::current_exception();
            next = count;
        }
    };
    std::vector<std::thread> helpers;
    for (std::size_t i = 1; i < threads; ++i)
        helpers.emplace_back(run);
    run();
    for (std::thread& helper : helpers)
        helper.join();
    if (failed)
        std::rethrow_exception(failed);
}

} // namespace quoin::core
