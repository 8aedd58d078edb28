// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/console.h"
#include "app/report.h"
#include "app/verbs.h"

#include "ui/window_entry.h"

#include <csignal>
#include <exception>
#include <filesystem>
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

/// Without a verb: the window, or what to type when there is no display.
int withoutVerb(int argc, char** argv, const std::vector<std::string>& files)
{
    for (const std::string& file : files)
        if (!std::filesystem::exists(file))
            return quoin::app::say({quoin::Reason::FileMissing,
                                    "this is neither a verb nor a file",
                                    file,
                                    {},
                                    "quoin --help lists the verbs."});
    if (quoin::ui::hasDisplay())
        return quoin::ui::runWindow(argc, argv, files);
    std::cout << "There is no display for the window; on the command line:\n"
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
    std::vector<std::string> files;
    app.add_option("FILES", files, "Models, designs or exports to open in the window");
    Work work;
    addCheck(app, work);
    addSplit(app, work);
    addSuggest(app, work);
    addExport(app, work);
    addProve(app, work);
    addJoints(app, work);
    addStrength(app, work);
    addBeds(app, work);
    addCoupon(app, work);
    addFits(app, work);
    addMachines(app, work);
    addPlan(app, work);
    addEstimate(app, work);
    addRecipes(app, work);
    addMaterials(app, work);
    addLog(app, work);
    addDemo(app, work);
    try {
        app.parse(argc, argv);
    } catch (const CLI::ParseError& e) {
        return app.exit(e) == 0 ? Ok : BadInput;
    }
    if (!work)
        return withoutVerb(argc, argv, files);
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
