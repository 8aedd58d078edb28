// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/own_fits.h"

#include "ui/bench.h"

namespace quoin::ui {

core::FitTable ownFits(Bench& bench)
{
    auto table = core::FitTable::load(core::FitTable::defaultFile());
    if (table)
        return std::move(*table);
    bench.refuse(table.problem());
    return {};
}

} // namespace quoin::ui
