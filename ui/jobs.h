// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/context.h"

#include <QObject>
#include <QPointer>
#include <QString>

#include <any>
#include <functional>
#include <memory>
#include <mutex>
#include <thread>
#include <vector>

class QTimer;

namespace quoin::ui {

/// One piece of long work, on a thread of its own.
class Job : public QObject {
    Q_OBJECT
public:
    using Work = std::function<std::any(const Context&)>;

    Job(QString name, Work work, QObject* parent);
    /// Asks the work to stop, and waits for it.
    ~Job() override;

    const QString& name() const { return m_name; }
    double fraction() const;
    QString stage() const;
    qint64 elapsedMs() const;
    bool cancelled() const { return m_context.cancelled(); }

public slots:
    void cancel() { m_context.cancel(); }

signals:
    void progressed(double fraction, const QString& stage);
    /// On the thread that the job belongs to. The job goes away afterwards.
    void ended(const std::any& outcome);

private:
    const QString m_name;
    mutable std::mutex m_lock; ///< of the two below
    double m_fraction = 0;
    std::string m_stage;
    qint64 m_began;
    Context m_context;
    QTimer* m_tick;
    std::thread m_thread;
};

/// All long work of the window: what runs can be shown and cancelled. Outcomes arrive on the window's thread.
class Jobs : public QObject {
    Q_OBJECT
public:
    using QObject::QObject;

    /// Starts work. `done` is called on the window's thread with what the work returned, unless `receiver` has gone.
    /// @param quiet  not shown in the strip: short work that follows the pointer
    template <class T>
    Job* start(const QString& name, std::function<T(const Context&)> work, QObject* receiver,
               std::function<void(T)> done, bool quiet = false)
    {
        // Shared, since what comes back may not be copyable.
        return run(
            name,
            [work = std::move(work)](const Context& context) -> std::any { return std::make_shared<T>(work(context)); },
            receiver,
            [done = std::move(done)](const std::any& outcome) {
                done(std::move(*std::any_cast<std::shared_ptr<T>>(outcome)));
            },
            quiet);
    }
    std::vector<Job*> running() const;
    void cancelAll();

signals:
    void started(quoin::ui::Job* job);

private:
    Job* run(const QString& name, Job::Work work, QObject* receiver, std::function<void(const std::any&)> done,
             bool quiet);
};

/// Work of which only the newest matters: asked again while it runs, it is cancelled, and the newest begins when it
/// has ended.
class Latest : public QObject {
public:
    explicit Latest(Jobs& jobs, QObject* parent = nullptr) : QObject(parent), m_jobs(jobs) {}
    ~Latest() override { drop(); }

    template <class T>
    void ask(const QString& name, std::function<T(const Context&)> work, std::function<void(T)> done,
             bool quiet = false, bool cancelEarlier = true)
    {
        m_next = [this, name, work = std::move(work), done = std::move(done), quiet] {
            m_job = m_jobs.start<T>(
                name, work, this,
                [this, done](T outcome) {
                    m_job.clear();
                    const bool superseded = static_cast<bool>(m_next);
                    begin();
                    if (!superseded || !m_cancelEarlier)
                        done(std::move(outcome));
                },
                quiet);
        };
        m_cancelEarlier = cancelEarlier;
        if (!m_job)
            begin();
        else if (cancelEarlier)
            m_job->cancel();
    }
    void drop()
    {
        m_next = nullptr;
        if (m_job)
            m_job->cancel();
    }
    bool busy() const { return m_job || m_next; }

private:
    void begin()
    {
        if (auto next = std::exchange(m_next, nullptr))
            next();
    }

    Jobs& m_jobs;
    QPointer<Job> m_job;
    std::function<void()> m_next;
    bool m_cancelEarlier = true;
};

} // namespace quoin::ui
