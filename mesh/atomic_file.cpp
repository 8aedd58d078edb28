// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/atomic_file.h"

#include "mesh/output_file.h"

#include <atomic>
#include <cerrno>
#include <fcntl.h>
#include <string>
#include <sys/stat.h>
#include <system_error>
#include <unistd.h>

namespace quoin::mesh {

namespace {

namespace fs = std::filesystem;

constexpr mode_t newFileMode = 0666; // narrowed by the user's umask
constexpr int nameAttempts = 1000;

Problem unwritable(const fs::path& file, const std::string& what, const std::string& remedy)
{
    return Problem{Reason::FileUnwritable, what, file.string(), "", remedy};
}

Problem unwritable(const fs::path& file, int error)
{
    return unwritable(file, "the file could not be written: " + std::generic_category().message(error),
                      "Check the free space and the permissions of the folder.");
}

/// A file that removes itself unless it was renamed.
struct Temporary {
    fs::path path;
    bool kept = false;

    ~Temporary()
    {
        std::error_code ignored;
        if (!kept && !path.empty())
            fs::remove(path, ignored);
    }
};

/// Makes an empty file of a name that no one else has, in the folder. The name is short and doesn't grow with the
/// wanted one, which may already be as long as the file system allows. @return 0 or errno.
int makeTemporary(const fs::path& folder, Temporary& temporary)
{
    static std::atomic<unsigned> counter{0};
    for (int i = 0; i < nameAttempts; ++i) {
        const fs::path path =
            folder / (".quoin-" + std::to_string(::getpid()) + "-" + std::to_string(counter++) + ".tmp");
        const int descriptor = ::open(path.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, newFileMode);
        if (descriptor >= 0) {
            ::close(descriptor);
            temporary.path = path;
            return 0;
        }
        if (errno != EEXIST)
            return errno;
    }
    return EEXIST;
}

/// What is known to be on the disk when this returns 0; errno otherwise. Folders may refuse, which is no loss.
int flushToDisk(const fs::path& path, bool isFolder)
{
    const int descriptor = ::open(path.c_str(), O_RDONLY | O_CLOEXEC | (isFolder ? O_DIRECTORY : 0));
    if (descriptor < 0)
        return errno;
    int error = ::fsync(descriptor) == 0 ? 0 : errno;
    if (::close(descriptor) != 0 && error == 0)
        error = errno;
    return error;
}

/// Only a regular file may be replaced: a rename over a device, a pipe or a folder would do harm or fail late.
Status checkTarget(const fs::path& asGiven, const fs::path& target)
{
    std::error_code error;
    const fs::file_status status = fs::status(target, error);
    if (status.type() == fs::file_type::not_found)
        return Done{};
    if (error)
        return unwritable(asGiven, error.value());
    if (status.type() != fs::file_type::regular)
        return unwritable(asGiven, "this name belongs to a folder or a device, not to a file",
                          "Choose another file name.");
    if (::access(target.c_str(), W_OK) != 0)
        return unwritable(asGiven, "the file is there and must not be changed",
                          "Choose another file name, or make the file writable.");
    return Done{};
}

/// The file that a symbolic link leads to, so that the link itself survives.
fs::path linkTarget(const fs::path& file)
{
    std::error_code error;
    if (!fs::is_symlink(file, error))
        return file;
    const fs::path target = fs::weakly_canonical(file, error);
    return error ? file : target;
}

/// Folder of a path; "." for a bare name.
fs::path folderOf(const fs::path& file)
{
    return file.has_parent_path() ? file.parent_path() : fs::path(".");
}

} // namespace

Status writeAtomically(const fs::path& file, const std::function<Status(const fs::path&)>& write)
{
    const fs::path target = linkTarget(file);
    const fs::path folder = folderOf(target);
    std::error_code error;
    if (!target.has_filename())
        return unwritable(file, "the name of the file is missing", "Give a file name.");
    if (!fs::is_directory(folder, error))
        return unwritable(file, "the folder " + folder.string() + " does not exist", "Make the folder first.");
    if (Status allowed = checkTarget(file, target); !allowed)
        return allowed;

    Temporary temporary;
    if (const int made = makeTemporary(folder, temporary); made != 0)
        return unwritable(file, made);
    if (Status written = write(temporary.path); !written) {
        Problem problem = written.problem();
        // The user knows the file by the name asked for.
        if (problem.file.empty() || problem.file == temporary.path.string())
            problem.file = file.string();
        return problem;
    }
    struct stat old = {};
    if (::stat(target.c_str(), &old) == 0)
        ::chmod(temporary.path.c_str(), old.st_mode & 07777);
    if (const int flushed = flushToDisk(temporary.path, false); flushed != 0)
        return unwritable(file, flushed);
    if (::rename(temporary.path.c_str(), target.c_str()) != 0)
        return unwritable(file, errno);
    temporary.kept = true;
    flushToDisk(folder, true);
    return Done{};
}

Status writeAtomically(const fs::path& file, std::string_view content)
{
    return writeAtomically(file, [content](const fs::path& temporary) {
        OutputFile out(temporary);
        out.append(content);
        return out.finish();
    });
}

} // namespace quoin::mesh
