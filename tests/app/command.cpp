// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/app/command.h"

#include "tests/support/scratch.h"

#include <fcntl.h>
#include <fstream>
#include <iterator>
#include <sys/wait.h>
#include <unistd.h>

namespace quoin::test {

namespace {

std::string contentOf(const std::filesystem::path& file)
{
    std::ifstream in(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

} // namespace

Ran ran(const std::string& program, const std::vector<std::string>& arguments)
{
    const ScratchFolder scratch;
    const std::string out = (scratch / "out").string(), err = (scratch / "err").string();
    std::vector<char*> argv{const_cast<char*>(program.c_str())};
    for (const std::string& a : arguments)
        argv.push_back(const_cast<char*>(a.c_str()));
    argv.push_back(nullptr);
    const pid_t child = fork();
    if (child == 0) {
        dup2(open("/dev/null", O_RDONLY), STDIN_FILENO);
        dup2(open(out.c_str(), O_CREAT | O_WRONLY, 0600), STDOUT_FILENO);
        dup2(open(err.c_str(), O_CREAT | O_WRONLY, 0600), STDERR_FILENO);
        execvp(program.c_str(), argv.data());
        _exit(127);
    }
    int status = 0;
    waitpid(child, &status, 0);
    return {WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status), contentOf(out), contentOf(err)};
}

Ran quoinRan(const std::vector<std::string>& arguments)
{
    // The tests must not see, or touch, the beds of whoever runs them.
    static const ScratchFolder configuration;
    setenv("XDG_CONFIG_HOME", configuration.path().c_str(), 1);
    // The command line alone: without a verb it would open the window.
    for (const char* display : {"DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"})
        unsetenv(display);
    return ran(QUOIN_EXECUTABLE, arguments);
}

} // namespace quoin::test
