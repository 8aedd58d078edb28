// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/output_file.h"

#include <cerrno>
#include <fcntl.h>
#include <system_error>
#include <unistd.h>

namespace quoin::mesh {

namespace {

constexpr std::size_t bufferBytes = 1 << 20;
constexpr mode_t newFileMode = 0666; // narrowed by the user's umask

} // namespace

OutputFile::OutputFile(const std::filesystem::path& file) : m_file(file)
{
    m_descriptor = ::open(file.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, newFileMode);
    if (m_descriptor < 0)
        m_error = errno;
    m_buffer.reserve(bufferBytes);
}

OutputFile::~OutputFile()
{
    if (m_descriptor >= 0)
        ::close(m_descriptor);
}

void OutputFile::append(std::string_view bytes)
{
    if (m_error != 0)
        return;
    while (!bytes.empty()) {
        const std::size_t part = std::min(bytes.size(), bufferBytes - m_buffer.size());
        m_buffer.insert(m_buffer.end(), bytes.begin(), bytes.begin() + static_cast<std::ptrdiff_t>(part));
        bytes.remove_prefix(part);
        if (m_buffer.size() == bufferBytes)
            drain();
    }
}

void OutputFile::drain()
{
    std::size_t done = 0;
    while (m_error == 0 && done < m_buffer.size()) {
        const ssize_t n = ::write(m_descriptor, m_buffer.data() + done, m_buffer.size() - done);
        if (n >= 0)
            done += static_cast<std::size_t>(n);
        else if (errno != EINTR)
            m_error = errno;
    }
    m_buffer.clear();
}

Status OutputFile::finish()
{
    if (m_error == 0)
        drain();
    if (m_descriptor >= 0 && ::close(m_descriptor) != 0 && m_error == 0)
        m_error = errno;
    m_descriptor = -1;
    if (m_error == 0)
        return Done{};
    return Problem{Reason::FileUnwritable, "the file could not be written: " + std::generic_category().message(m_error),
                   m_file.string(), "", "Check the free space and the permissions of the folder."};
}

} // namespace quoin::mesh
