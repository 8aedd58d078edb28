// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/console.h"
#include "app/verbs.h"

#include <csignal>
#include <exception>
#include <iostream>
#include <new>

namespace {

quoin::Context* running = nullptr;

/// Ctrl-C asks the work to stop tidily; asked twice, it ends at once.
void onInterrupt(int signal)
{
    if (running == nullptr || running->cancelled())
        std::_Exit(128 + signal);
    running->cancel();
}

int withoutVerb()
{
    std::cout << "The window is not built yet; this is the command line.\n"
                 "  quoin split MODEL.stl --height 1800mm --bed 300x300x400 --out pieces\n"
                 "  quoin demo --out heron\n"
                 "  quoin --help\n";
    return quoin::app::Ok;
}

int run(int argc, char** argv)
{
    using namespace quoin::app;
    CLI::App app{
        "Quoin makes a model big: scaled, cut to fit the beds at hand, jointed, and proved to go back together."};
    app.set_version_flag("--version", "quoin " QUOIN_VERSION);
    app.require_subcommand(0, 1);
    app.footer("Exit status: 0 done, 1 the proof failed, 2 bad use or bad input.");
    Work work;
    addCheck(app, work);
    addSplit(app, work);
    addExport(app, work);
    addProve(app, work);
    addBeds(app, work);
    addDemo(app, work);
    try {
        app.parse(argc, argv);
    } catch (const CLI::ParseError& e) {
        return app.exit(e) == 0 ? Ok : BadInput;
    }
    if (!work)
        return withoutVerb();
    quoin::Context context(progressOnTerminal());
    running = &context;
    std::signal(SIGINT, onInterrupt);
    std::signal(SIGTERM, onInterrupt);
    const int status = work(context);
    clearProgress();
    return status;
}

} // namespace

int main(int argc, char** argv)
{
    try {
        return run(argc, argv);
    } catch (const std::bad_alloc&) {
        std::cerr << "quoin: out of memory. Close other programs, or give a smaller model.\n";
    } catch (const std::exception& e) {
        std::cerr << "quoin: an error of the program itself: " << e.what() << "\nNothing was written.\n";
    }
    return quoin::app::BadInput;
}
