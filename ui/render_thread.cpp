// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/render_thread.h"

#include "ui/coarse_budget.h"

#include "ui/gl_context.h"
#include "ui/scene_painter.h"

#include <QGuiApplication>
#include <QOffscreenSurface>
#include <QOpenGLContext>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cmath>
#include <condition_variable>
#include <mutex>
#include <optional>
#include <stdexcept>
#include <thread>

namespace quoin::ui {

namespace {

using Clock = std::chrono::steady_clock;

/// How long the view rests before it is drawn at full detail.
constexpr std::chrono::milliseconds restTime{150};
/// A change at rest is drawn at full detail at once when that took no longer than this; else coarsely first.
constexpr double directFineMs = 300;
/// Coarse pictures have at most this many pixels (they are enlarged), smoothed ones too.
constexpr double mostCoarsePixels = 2.2e6, mostSmoothedPixels = 4.5e6;

double msSince(Clock::time_point start)
{
    return std::chrono::duration<double, std::milli>(Clock::now() - start).count();
}

QSurfaceFormat coreFormat()
{
    QSurfaceFormat format;
    format.setRenderableType(QSurfaceFormat::OpenGL);
    format.setVersion(3, 2);
    format.setProfile(QSurfaceFormat::CoreProfile);
    return format;
}

QSize sizeOf(const OrbitCamera& camera, double pixelRatio)
{
    return {std::max(1, static_cast<int>(std::lround(camera.widthPx * pixelRatio))),
            std::max(1, static_cast<int>(std::lround(camera.heightPx * pixelRatio)))};
}

} // namespace

class RenderThread::Worker {
public:
    explicit Worker(RenderThread& owner) : m_owner(owner), m_thread([this] { run(); }) {}
    ~Worker()
    {
        post([](Mail& mail) { mail.quit = true; });
        m_thread.join();
    }
    Worker(const Worker&) = delete;
    Worker& operator=(const Worker&) = delete;

    /// What the window has asked for since the thread last looked.
    struct Mail {
        std::optional<ViewScenePtr> scene;
        std::optional<OrbitCamera> camera;
        double pixelRatio = 1;
        bool moving = false;
        bool quit = false;
        Clock::time_point cameraAt{}, sceneAt{};
        std::optional<std::unique_ptr<QOffscreenSurface>> surface; ///< an answer to askForSurface()
    };

    template <class Change>
    void post(const Change& change)
    {
        {
            const std::lock_guard lock(m_lock);
            change(m_mail);
            m_interrupt = m_mail.quit || m_mail.moving || m_mail.scene || m_mail.camera;
        }
        m_wake.notify_one();
    }

private:
    struct Job {
        bool fine = false;
        std::optional<ViewScenePtr> scene;
    };

    void run();
    bool openContext();
    bool openFromQt();
    void work();
    std::optional<Job> nextJob();
    void draw(const Job& job, ScenePainter& painter);
    void drawCoarse(ScenePainter& painter);
    bool drawFine(ScenePainter& painter);
    void deliver(QImage image, bool fine, double drawMs);
    void fail(const QString& why);

    RenderThread& m_owner;
    std::mutex m_lock;
    std::condition_variable m_wake;
    Mail m_mail;
    /// There is mail that a fine picture should make way for; asked between slices.
    std::atomic<bool> m_interrupt{false};
    /// The newest picture that the window hasn't taken yet.
    std::optional<Frame> m_outgoing;

    // The thread's own.
    std::unique_ptr<GlContext> m_context;
    std::unique_ptr<QOffscreenSurface> m_surface;
    std::unique_ptr<QOpenGLContext> m_qtContext;
    std::optional<OrbitCamera> m_camera;
    double m_pixelRatio = 1;
    bool m_fineOwed = false;
    double m_fineMs = 0;
    CoarseBudget m_budget;

    std::thread m_thread; ///< last: it starts when all else is there
};

void RenderThread::Worker::run()
{
    if (!openContext())
        return;
    try {
        work();
    } catch (const std::exception& e) {
        fail(QStringLiteral("Can't draw: %1. Install the Debian packages libegl-mesa0 and libgl1-mesa-dri, or update "
                            "the graphics driver.")
                 .arg(QString::fromUtf8(e.what())));
    }
    if (m_qtContext)
        m_qtContext->doneCurrent();
    m_qtContext.reset();
    m_context.reset();
}

bool RenderThread::Worker::openContext()
{
    auto context = GlContext::openSurfaceless();
    if (context) {
        m_context = *std::move(context);
        return true;
    }
    if (openFromQt())
        return true;
    fail(QString::fromStdString(context.problem().sentence()));
    return false;
}

/// Without EGL's surfaceless platform: a context of the display. Its surface has to be made on the window's thread.
bool RenderThread::Worker::openFromQt()
{
    if (qobject_cast<QGuiApplication*>(QCoreApplication::instance()) == nullptr)
        return false;
    QMetaObject::invokeMethod(
        &m_owner,
        [this] {
            auto surface = std::make_unique<QOffscreenSurface>();
            surface->setFormat(coreFormat());
            surface->create();
            post([&](Mail& mail) { mail.surface = std::move(surface); });
        },
        Qt::QueuedConnection);
    {
        std::unique_lock lock(m_lock);
        m_wake.wait(lock, [&] { return m_mail.quit || m_mail.surface; });
        if (m_mail.quit)
            return false;
        m_surface = *std::move(m_mail.surface);
    }
    m_qtContext = std::make_unique<QOpenGLContext>();
    m_qtContext->setFormat(coreFormat());
    const bool usable =
        m_surface->isValid() && m_qtContext->create() && m_qtContext->makeCurrent(m_surface.get()) && loadGlFunctions();
    if (!usable)
        m_qtContext.reset();
    return usable;
}

void RenderThread::Worker::work()
{
    ScenePainter painter;
    while (const auto job = nextJob())
        draw(*job, painter);
}

/// Waits for something to draw; none when it is time to end.
std::optional<RenderThread::Worker::Job> RenderThread::Worker::nextJob()
{
    std::unique_lock lock(m_lock);
    for (;;) {
        if (m_mail.quit)
            return std::nullopt;
        const auto restsAt = m_mail.cameraAt + restTime;
        const bool fresh = m_mail.camera || m_mail.scene;
        if (m_mail.camera) {
            m_camera = std::exchange(m_mail.camera, std::nullopt);
            m_pixelRatio = m_mail.pixelRatio;
        }
        if (m_camera && fresh) {
            Job job;
            job.scene = std::exchange(m_mail.scene, std::nullopt);
            // Scenes that come quickly, one after another, are part of a drag as well.
            const auto now = Clock::now(), before = job.scene ? std::exchange(m_mail.sceneAt, now) : now;
            job.fine = !m_mail.moving && now >= restsAt && now >= before + restTime;
            m_interrupt = m_mail.moving;
            m_fineOwed = true;
            return job;
        }
        if (!m_camera || !m_fineOwed || m_mail.moving) {
            m_wake.wait(lock);
        } else if (Clock::now() < restsAt) {
            m_wake.wait_until(lock, restsAt);
        } else {
            return Job{true, std::nullopt};
        }
    }
}

void RenderThread::Worker::draw(const Job& job, ScenePainter& painter)
{
    if (job.scene)
        painter.setScene(*job.scene);
    const bool large = painter.trianglesToSend() > 2 * CoarseBudget::first || m_fineMs > directFineMs;
    if (job.fine && (!job.scene || !large) && drawFine(painter))
        return;
    if (!job.fine || job.scene)
        drawCoarse(painter);
}

void RenderThread::Worker::drawCoarse(ScenePainter& painter)
{
    const QSize wanted = sizeOf(*m_camera, m_pixelRatio);
    const double pixels = static_cast<double>(wanted.width()) * wanted.height();
    const double shrink = std::min(1.0, std::sqrt(mostCoarsePixels / pixels));
    const QSize size = shrink < 1 ? sizeOf(*m_camera, m_pixelRatio * shrink) : wanted;
    PaintOptions options;
    options.widthPx = size.width();
    options.heightPx = size.height();
    options.pixelRatio = m_pixelRatio * shrink;
    options.mostTriangles = m_budget.triangles();
    options.smooth = m_budget.smooth() && shrink == 1;
    const auto start = Clock::now();
    const std::size_t toSend = painter.trianglesToSend();
    Painted painted = painter.paint(*m_camera, options);
    if (painted.image.isNull())
        return;
    if (size != wanted)
        painted.image = painted.image.scaled(wanted, Qt::IgnoreAspectRatio, Qt::SmoothTransformation);
    const double ms = msSince(start);
    if (toSend == 0)
        m_budget.learn(ms, painted.full, options.smooth, painter.trianglesInAll());
    deliver(std::move(painted.image), false, ms);
}

/// False when it was given up.
bool RenderThread::Worker::drawFine(ScenePainter& painter)
{
    const QSize size = sizeOf(*m_camera, m_pixelRatio);
    PaintOptions options;
    options.widthPx = size.width();
    options.heightPx = size.height();
    options.pixelRatio = m_pixelRatio;
    options.smooth = static_cast<double>(size.width()) * size.height() <= mostSmoothedPixels;
    options.stop = [this] { return m_interrupt.load(std::memory_order_relaxed); };
    const auto start = Clock::now();
    Painted painted = painter.paint(*m_camera, options);
    if (painted.image.isNull()) {
        // Given up for something newer, or no room for a smoothed picture: the coarse one stays.
        m_fineOwed = m_interrupt;
        return false;
    }
    m_fineOwed = false;
    m_fineMs = msSince(start);
    deliver(std::move(painted.image), true, m_fineMs);
    return true;
}

/// Leaves the picture for the window to take. If it hasn't taken the one before, that is dropped.
void RenderThread::Worker::deliver(QImage image, bool fine, double drawMs)
{
    bool first = false;
    {
        const std::lock_guard lock(m_lock);
        if (m_mail.quit)
            return;
        first = !m_outgoing;
        m_outgoing = Frame{std::move(image), *m_camera, fine, drawMs};
    }
    if (!first)
        return;
    QMetaObject::invokeMethod(
        &m_owner,
        [this] {
            std::optional<Frame> frame;
            {
                const std::lock_guard lock(m_lock);
                frame.swap(m_outgoing);
            }
            if (frame)
                emit m_owner.frameReady(*frame);
        },
        Qt::QueuedConnection);
}

void RenderThread::Worker::fail(const QString& why)
{
    QMetaObject::invokeMethod(
        &m_owner, [this, why] { emit m_owner.failed(why); }, Qt::QueuedConnection);
}

RenderThread::RenderThread(QObject* parent) : QObject(parent), m_worker(std::make_unique<Worker>(*this)) {}

RenderThread::~RenderThread() = default;

void RenderThread::setScene(ViewScenePtr scene)
{
    m_worker->post([&](Worker::Mail& mail) { mail.scene = std::move(scene); });
}

void RenderThread::setCamera(const OrbitCamera& camera, double pixelRatio)
{
    m_worker->post([&](Worker::Mail& mail) {
        mail.camera = camera;
        mail.pixelRatio = pixelRatio;
        mail.cameraAt = Clock::now();
    });
}

void RenderThread::setMoving(bool moving)
{
    m_worker->post([&](Worker::Mail& mail) { mail.moving = moving; });
}

} // namespace quoin::ui
