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
    /// Hands something to the window's thread before the work ends.
    using Hand = std::function<void(std::any)>;
    using Work = std::function<std::any(const Context&, const Hand&)>;

    /// @param urgent  the user waits for it, hand on the mouse; other work makes way for the window and its pictures
    Job(QString name, Work work, bool urgent, QObject* parent);
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
    void handed(const std::any& stage);
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
    /// @param quiet   not shown in the strip: short work
    /// @param urgent  it follows the pointer
    template <class T>
    Job* start(const QString& name, std::function<T(const Context&)> work, QObject* receiver,
               std::function<void(T)> done, bool quiet = false, bool urgent = false)
    {
        return startInStages<T, int>(
            name, [work = std::move(work)](const Context& context, const auto&) { return work(context); }, receiver,
            [](int) {}, std::move(done), quiet, urgent);
    }
    /// The same for work that has something to show on its way: `stage` is called with each thing that it hands on.
    template <class T, class S>
    Job* startInStages(const QString& name, std::function<T(const Context&, const std::function<void(S)>&)> work,
                       QObject* receiver, std::function<void(S)> stage, std::function<void(T)> done, bool quiet = false,
                       bool urgent = false)
    {
        // Outcomes are shared, since they may not be copyable.
        return run(
            name,
            [work = std::move(work)](const Context& context, const Job::Hand& hand) -> std::any {
                return std::make_shared<T>(work(context, [&](S s) { hand(std::any(std::move(s))); }));
            },
            receiver, [stage = std::move(stage)](const std::any& s) { stage(std::any_cast<S>(s)); },
            [done = std::move(done)](const std::any& outcome) {
                done(std::move(*std::any_cast<std::shared_ptr<T>>(outcome)));
            },
            quiet, urgent);
    }
    std::vector<Job*> running() const;
    void cancelAll();

signals:
    void started(quoin::ui::Job* job);

private:
    Job* run(const QString& name, Job::Work work, QObject* receiver, std::function<void(const std::any&)> stage,
             std::function<void(const std::any&)> done, bool quiet, bool urgent);
};

/// Work of which only the newest matters: asked again while it runs, it is cancelled, and the newest begins when it
/// has ended.
class Latest : public QObject {
public:
    explicit Latest(Jobs& jobs, QObject* parent = nullptr) : QObject(parent), m_jobs(jobs) {}
    ~Latest() override { drop(); }

    /// @param tellAll  outcomes are told even when something newer has been asked, and nothing is cancelled: for what
    ///                 follows the pointer
    template <class T>
    void ask(const QString& name, std::function<T(const Context&)> work, std::function<void(T)> done,
             bool quiet = false)
    {
        askInStages<T, int>(
            name, [work = std::move(work)](const Context& context, const auto&) { return work(context); }, [](int) {},
            std::move(done), quiet);
    }
    template <class T, class S>
    void askInStages(const QString& name, std::function<T(const Context&, const std::function<void(S)>&)> work,
                     std::function<void(S)> stage, std::function<void(T)> done, bool quiet = false,
                     bool tellAll = false)
    {
        m_next = [this, name, work = std::move(work), stage = std::move(stage), done = std::move(done), quiet,
                  tellAll] {
            const auto heard = [this, stage](S s) {
                if (!m_next)
                    stage(std::move(s));
            };
            const auto ended = [this, done, tellAll](T outcome) {
                m_job.clear();
                const bool superseded = static_cast<bool>(m_next);
                begin();
                if (!superseded || tellAll)
                    done(std::move(outcome));
            };
            m_job = m_jobs.startInStages<T, S>(name, work, this, heard, ended, quiet, tellAll);
        };
        if (!m_job)
            begin();
        else if (!tellAll)
            m_job->cancel();
    }
    /// Cancels what runs; nothing more is heard of it.
    void drop()
    {
        m_next = nullptr;
        if (Job* job = m_job) {
            m_job.clear();
            disconnect(job, nullptr, this, nullptr);
            job->cancel();
        }
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
};

} // namespace quoin::ui
