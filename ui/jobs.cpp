// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/jobs.h"

#include <QDateTime>
#include <QTimer>

#include <sys/resource.h>
#include <unistd.h>

namespace quoin::ui {

namespace {

constexpr int tickMs = 100;
/// What keeps the window waiting on a machine with few cores is work that takes turns with it as an equal: this many
/// steps of niceness give it about a third of a turn.
constexpr int nicenessBehind = 5;

/// The calling thread, and the threads that it starts, make way for others.
void stepBehind()
{
    // On Linux threads have priorities of their own. Failing costs nothing but smoothness.
    (void)setpriority(PRIO_PROCESS, static_cast<id_t>(gettid()), nicenessBehind);
}

} // namespace

Job::Job(QString name, Work work, bool urgent, QObject* parent)
    : QObject(parent),
      m_name(std::move(name)),
      m_began(QDateTime::currentMSecsSinceEpoch()),
      m_context([this](double fraction, std::string_view stage) {
          const std::lock_guard lock(m_lock);
          m_fraction = fraction;
          m_stage = stage;
      }),
      m_tick(new QTimer(this))
{
    m_tick->setInterval(tickMs);
    connect(m_tick, &QTimer::timeout, this, [this] { emit progressed(fraction(), stage()); });
    m_tick->start();
    m_thread = std::thread([this, urgent, work = std::move(work)]() mutable {
        if (!urgent)
            stepBehind();
        std::any outcome = work(m_context, [this](std::any stage) {
            QMetaObject::invokeMethod(
                this, [this, stage = std::move(stage)] { emit handed(stage); }, Qt::QueuedConnection);
        });
        work = nullptr; // what it holds is let go on this thread
        QMetaObject::invokeMethod(
            this,
            [this, outcome = std::move(outcome)] {
                m_tick->stop();
                emit ended(outcome);
                deleteLater();
            },
            Qt::QueuedConnection);
    });
}

Job::~Job()
{
    m_context.cancel();
    if (m_thread.joinable())
        m_thread.join();
}

double Job::fraction() const
{
    const std::lock_guard lock(m_lock);
    return m_fraction;
}

QString Job::stage() const
{
    const std::lock_guard lock(m_lock);
    return QString::fromStdString(m_stage);
}

qint64 Job::elapsedMs() const
{
    return QDateTime::currentMSecsSinceEpoch() - m_began;
}

Job* Jobs::run(const QString& name, Job::Work work, QObject* receiver, std::function<void(const std::any&)> stage,
               std::function<void(const std::any&)> done, bool quiet, bool urgent)
{
    auto* job = new Job(name, std::move(work), urgent, this);
    // The receiver as context: gone, it hears nothing.
    connect(job, &Job::handed, receiver, [stage = std::move(stage)](const std::any& s) { stage(s); });
    connect(job, &Job::ended, receiver, [done = std::move(done)](const std::any& outcome) { done(outcome); });
    if (!quiet)
        emit started(job);
    return job;
}

std::vector<Job*> Jobs::running() const
{
    const QList<Job*> jobs = findChildren<Job*>(Qt::FindDirectChildrenOnly);
    return {jobs.begin(), jobs.end()};
}

void Jobs::cancelAll()
{
    for (Job* job : running())
        job->cancel();
}

} // namespace quoin::ui
