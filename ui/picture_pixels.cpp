// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/picture_pixels.h"

#include <algorithm>
#include <cmath>
#include <span>

namespace quoin::ui {

namespace {

constexpr std::uint32_t even = 0x00FF00FF, opaque = 0xFF000000;

std::span<std::uint32_t> rowOf(QImage& image, int y)
{
    return {reinterpret_cast<std::uint32_t*>(image.scanLine(y)), static_cast<std::size_t>(image.width())};
}

/// How much each pixel is inside, 0 to 255, with `border` columns and rows of nothing on each side.
class Mask {
public:
    Mask(QImage& image, int border)
        : m_stride(static_cast<std::size_t>(image.width() + 2 * border)),
          m_border(static_cast<std::size_t>(border)),
          m_inside(m_stride * static_cast<std::size_t>(image.height() + 2 * border), 0)
    {
        for (int y = 0; y < image.height(); ++y) {
            const auto pixels = rowOf(image, y);
            std::uint8_t* to = at(y);
            for (std::size_t x = 0; x < pixels.size(); ++x)
                to[x] = static_cast<std::uint8_t>(255 - (pixels[x] >> 24));
        }
    }
    std::uint8_t* at(int y) { return m_inside.data() + (static_cast<std::size_t>(y) + m_border) * m_stride + m_border; }

    /// For each pixel of a row the most that any pixel within the radius is inside.
    void mostAround(int y, int radius, std::vector<std::uint8_t>& out)
    {
        const std::size_t width = m_stride - 2 * m_border;
        out.assign(width, 0);
        for (int dy = -radius; dy <= radius; ++dy) {
            const int reach = static_cast<int>(std::sqrt(radius * radius - dy * dy) + 0.5);
            for (int dx = -reach; dx <= reach; ++dx) {
                const std::uint8_t* from = at(y + dy) + dx;
                for (std::size_t x = 0; x < width; ++x)
                    out[x] = std::max(out[x], from[x]);
            }
        }
    }
    bool emptyAround(int y, int radius)
    {
        const std::uint8_t* first = at(y - radius) - m_border;
        return std::all_of(first, first + m_stride * static_cast<std::size_t>(2 * radius + 1),
                           [](std::uint8_t v) { return v == 0; });
    }

private:
    std::size_t m_stride, m_border;
    std::vector<std::uint8_t> m_inside;
};

/// @param share  of the colour, of 255; alpha becomes nothing
std::uint32_t mixed(std::uint32_t pixel, const Colour& colour, int share)
{
    const auto channel = [&](int shift, double c) {
        const int from = static_cast<int>(pixel >> shift & 0xFF), to = static_cast<int>(std::lround(255 * c));
        return static_cast<std::uint32_t>((from * (255 - share) + to * share + 127) / 255) << shift;
    };
    return channel(16, colour.r) | channel(8, colour.g) | channel(0, colour.b);
}

} // namespace

QImage halved(const std::vector<std::uint32_t>& large, int widthPx, int heightPx)
{
    QImage image(widthPx, heightPx, QImage::Format_RGB32);
    constexpr std::uint32_t round = 0x00020002;
    const std::size_t w = static_cast<std::size_t>(widthPx), rowLength = 2 * w;
    for (int y = 0; y < heightPx; ++y) {
        const std::uint32_t* a = large.data() + 2 * static_cast<std::size_t>(y) * rowLength;
        const std::uint32_t* b = a + rowLength;
        const auto to = rowOf(image, y);
        // Two channels at a time: sums of four bytes fit in the sixteen bits that each has.
        for (std::size_t x = 0; x < w; ++x) {
            const std::uint32_t p = a[2 * x], q = a[2 * x + 1], r = b[2 * x], s = b[2 * x + 1];
            const std::uint32_t low = (p & even) + (q & even) + (r & even) + (s & even) + round;
            const std::uint32_t high = (p >> 8 & even) + (q >> 8 & even) + (r >> 8 & even) + (s >> 8 & even) + round;
            to[x] = (low >> 2 & even) | (high >> 2 & even) << 8;
        }
    }
    return image;
}

void paintRim(QImage& image, const Colour& colour, int widthPx)
{
    constexpr Colour white{1, 1, 1};
    const int inner = std::max(1, widthPx / 3);
    Mask mask(image, widthPx);
    std::vector<std::uint8_t> around, near;
    for (int y = 0; y < image.height(); ++y) {
        const auto pixels = rowOf(image, y);
        if (!mask.emptyAround(y, widthPx)) {
            mask.mostAround(y, widthPx, around);
            mask.mostAround(y, inner, near);
            const std::uint8_t* inside = mask.at(y);
            for (std::size_t x = 0; x < pixels.size(); ++x)
                if (around[x] > inside[x]) {
                    pixels[x] = mixed(pixels[x], colour, around[x] - inside[x]);
                    pixels[x] = mixed(pixels[x], white, near[x] - inside[x]);
                }
        }
        for (std::uint32_t& pixel : pixels)
            pixel |= opaque;
    }
}

} // namespace quoin::ui
