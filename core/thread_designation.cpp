// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/thread.h"

#include <fmt/format.h>

#include <cctype>
#include <charconv>
#include <cmath>

namespace quoin::core {

namespace {

constexpr std::string_view multiplicationSign = "\xC3\x97"; // U+00D7 in UTF-8
constexpr std::string_view trapezoidalWord = "tr";
constexpr std::string_view printableWord = "printable";

/// Lead over pitch may be off a whole number by this much: rounding of typed decimals.
constexpr double wholeStarts = 1e-6;

/// Small letters, no spaces, x for the multiplication sign, point for comma.
std::string simplified(std::string_view text)
{
    std::string out;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const auto c = static_cast<unsigned char>(text[i]);
        if (text.substr(i).starts_with(multiplicationSign)) {
            out += 'x';
            ++i;
        } else if (c == ',')
            out += '.';
        else if (!std::isspace(c))
            out += static_cast<char>(std::tolower(c));
    }
    return out;
}

/// Takes parts off the front of a simplified designation.
struct Reader {
    std::string_view rest;

    bool take(std::string_view word)
    {
        if (!rest.starts_with(word))
            return false;
        rest.remove_prefix(word.size());
        return true;
    }
    std::optional<double> number()
    {
        double value = 0;
        const auto [end, error] =
            std::from_chars(rest.data(), rest.data() + rest.size(), value, std::chars_format::fixed);
        if (error != std::errc() || !std::isfinite(value))
            return std::nullopt;
        rest.remove_prefix(static_cast<std::size_t>(end - rest.data()));
        return value;
    }
};

std::string quoted(std::string_view text)
{
    constexpr std::size_t longest = 60;
    return fmt::format("\"{}{}\"", text.substr(0, longest), text.size() > longest ? "..." : "");
}

Problem unreadable(std::string_view text, std::string_view why)
{
    return {Reason::BadArgument, fmt::format("{} is not a thread: {}", quoted(text), why), "", "",
            "Write it like \"Tr 40x7\", \"Tr 60x18(P9)LH\" or \"Printable 40x6\"."};
}

/// The parts after the profile's word: nothing and the thread filled in, or why not.
std::optional<std::string> readParts(Reader& in, Thread& thread)
{
    const auto diameter = in.number();
    if (!diameter)
        return "it has no diameter";
    if (!in.take("x"))
        return "\"x\" and the pitch must follow the diameter";
    const auto lead = in.number();
    if (!lead)
        return "it has no pitch after the \"x\"";
    thread.diameterMm = *diameter;
    thread.pitchMm = *lead;
    if (in.take("(")) {
        const auto pitch = in.take("p") ? in.number() : std::nullopt;
        if (!pitch || !in.take(")"))
            return "the pitch in brackets must look like (P9)";
        const double starts = *lead / *pitch;
        if (!(*pitch > 0) || !(starts > 0.5 && starts < 1e6) || std::abs(starts - std::round(starts)) > wholeStarts)
            return fmt::format("the lead of {} mm is no multiple of the pitch of {} mm", *lead, *pitch);
        thread.pitchMm = *pitch;
        thread.starts = static_cast<int>(std::round(starts));
    }
    in.take("-");
    thread.leftHand = in.take("lh");
    if (!in.rest.empty())
        return fmt::format("{} at its end can't be read", quoted(in.rest));
    return std::nullopt;
}

} // namespace

std::string designation(const Thread& thread)
{
    const bool trapezoidal = thread.profile == Thread::Profile::Trapezoidal;
    std::string text = fmt::format("{} {}x{}", trapezoidal ? "Tr" : "Printable", thread.diameterMm, thread.leadMm());
    if (thread.starts != 1)
        text += fmt::format("(P{})", thread.pitchMm);
    if (thread.leftHand)
        text += "LH";
    return text;
}

Result<Thread> threadFrom(std::string_view text)
{
    const std::string plain = simplified(text);
    Reader in{plain};
    Thread thread;
    if (in.take(trapezoidalWord))
        thread.profile = Thread::Profile::Trapezoidal;
    else if (in.take(printableWord))
        thread.profile = Thread::Profile::Printable;
    else
        return unreadable(text, "it must begin with \"Tr\" or \"Printable\"");
    if (const auto why = readParts(in, thread))
        return unreadable(text, *why);
    if (const auto dimensions = dimensionsOf(thread); !dimensions)
        return dimensions.problem();
    return thread;
}

} // namespace quoin::core
