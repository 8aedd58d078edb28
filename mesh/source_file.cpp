// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/source_file.h"

#include <algorithm>
#include <cerrno>
#include <fcntl.h>
#include <sys/stat.h>
#include <system_error>
#include <unistd.h>
#include <utility>

namespace quoin::mesh {

namespace {

constexpr std::size_t chunkBytes = 4 << 20;

Problem refusedBySystem(int error)
{
    const std::string words = std::generic_category().message(error);
    if (error == ENOENT || error == ENOTDIR)
        return Problem{Reason::FileMissing, "there is no such file", "", "", "Check the name and the folder."};
    return Problem{Reason::FileUnreadable, "the file could not be read: " + words, "", "",
                   "Check its permissions and the disk."};
}

std::string kindOf(mode_t mode)
{
    if (S_ISDIR(mode))
        return "a folder";
    if (S_ISFIFO(mode))
        return "a pipe";
    if (S_ISSOCK(mode))
        return "a socket";
    return "a device";
}

} // namespace

Problem readingCancelled()
{
    return Problem{Reason::Cancelled, "reading was cancelled", "", "", ""};
}

Result<SourceFile> SourceFile::open(const std::filesystem::path& file)
{
    struct stat status = {};
    // Looked at before it is opened: opening a pipe waits, opening a device may do something.
    if (::stat(file.c_str(), &status) != 0)
        return refusedBySystem(errno);
    if (!S_ISREG(status.st_mode))
        return Problem{Reason::FileMissing, "this is " + kindOf(status.st_mode) + ", not a file", "", "",
                       "Choose a model file."};
    const int descriptor = ::open(file.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK);
    if (descriptor < 0)
        return refusedBySystem(errno);
    SourceFile source(descriptor, 0);
    if (::fstat(descriptor, &status) != 0)
        return refusedBySystem(errno);
    if (!S_ISREG(status.st_mode))
        return Problem{Reason::FileMissing, "this is " + kindOf(status.st_mode) + ", not a file", "", "",
                       "Choose a model file."};
    if (status.st_size == 0)
        return Problem{Reason::FileEmpty, "the file is empty", "", "", "Export the model again."};
    source.m_bytes = static_cast<std::uint64_t>(status.st_size);
    return source;
}

SourceFile::SourceFile(SourceFile&& other) noexcept
    : m_descriptor(std::exchange(other.m_descriptor, -1)), m_bytes(other.m_bytes)
{
}

SourceFile::~SourceFile()
{
    if (m_descriptor >= 0)
        ::close(m_descriptor);
}

Status SourceFile::read(std::uint64_t offset, char* to, std::size_t size) const
{
    while (size > 0) {
        const ssize_t n = ::pread(m_descriptor, to, size, static_cast<off_t>(offset));
        if (n < 0 && errno == EINTR)
            continue;
        if (n < 0)
            return refusedBySystem(errno);
        if (n == 0)
            return Problem{Reason::FileTruncated, "the file became shorter while it was read", "",
                           "byte " + std::to_string(offset),
                           "Wait until it is written completely, then read it again."};
        to += n;
        offset += static_cast<std::uint64_t>(n);
        size -= static_cast<std::size_t>(n);
    }
    return Done{};
}

Result<Buffer<char>> SourceFile::readAll(const Context& context) const
{
    Buffer<char> all(static_cast<std::size_t>(m_bytes));
    for (std::size_t at = 0; at < all.size(); at += chunkBytes) {
        if (context.cancelled())
            return readingCancelled();
        const Status read = this->read(at, all.data() + at, std::min(chunkBytes, all.size() - at));
        if (!read)
            return read.problem();
    }
    return all;
}

} // namespace quoin::mesh
