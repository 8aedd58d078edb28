// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/result.h"

namespace quoin {

std::string Problem::sentence() const
{
    std::string s = file.empty() ? what : file + ": " + what;
    if (!place.empty())
        s += " (" + place + ")";
    s += ".";
    if (!remedy.empty())
        s += " " + remedy;
    return s;
}

} // namespace quoin
