// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/bench/stall_trace.h"

#include <chrono>
#include <csignal>
#include <cstdio>
#include <dlfcn.h>
#include <execinfo.h>

namespace quoin::bench {

namespace {

constexpr int mostFrames = 48;
std::array<void*, mostFrames> caught;
std::atomic<int> caughtCount{-1};

void catchStack(int)
{
    if (caughtCount < 0)
        caughtCount = backtrace(caught.data(), mostFrames);
}

} // namespace

StallTrace::StallTrace(double limitMs) : m_limitMs(limitMs), m_watched(pthread_self())
{
    void* one = nullptr;
    backtrace(&one, 1); // loads what it needs, which a signal handler may not
    std::signal(SIGUSR2, catchStack);
    m_thread = std::thread([this] { watch(); });
}

StallTrace::~StallTrace()
{
    {
        const std::lock_guard lock(m_lock);
        m_stop = true;
    }
    m_answer.notify_all();
    m_thread.join();
    std::signal(SIGUSR2, SIG_IGN);
}

void StallTrace::watch()
{
    using namespace std::chrono_literals;
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
        lock.lock();
        const auto done = [this] { return m_answered || m_stop; };
        while (!m_answer.wait_for(lock, std::chrono::duration<double, std::milli>(m_limitMs), done)) {
            caughtCount = -1;
            lock.unlock();
            pthread_kill(m_watched, SIGUSR2);
            for (int i = 0; i < 100 && caughtCount < 0; ++i)
                std::this_thread::sleep_for(1ms);
            lock.lock();
            if (const int count = caughtCount; count > 0)
                m_stacks.emplace_back(caught.begin(), caught.begin() + count);
        }
        m_answer.wait_for(lock, 5ms, [this] { return m_stop; });
    }
}

void StallTrace::print()
{
    std::vector<std::vector<void*>> stacks;
    {
        const std::lock_guard lock(m_lock);
        stacks.swap(m_stacks);
    }
    Dl_info program{};
    dladdr(reinterpret_cast<void*>(&catchStack), &program);
    for (const std::vector<void*>& stack : stacks) {
        std::printf("stack");
        for (void* const at : stack) {
            Dl_info where{};
            if (dladdr(at, &where) != 0 && where.dli_sname != nullptr)
                std::printf(" %s", where.dli_sname);
            else if (where.dli_fbase == program.dli_fbase)
                std::printf(" 0x%zx",
                            static_cast<std::size_t>(static_cast<char*>(at) - static_cast<char*>(where.dli_fbase)));
        }
        std::printf("\n");
    }
    std::fflush(stdout);
}

} // namespace quoin::bench
