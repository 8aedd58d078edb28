// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

namespace quoin::ui {

/// Whether there is a display to open a window on.
bool hasDisplay();

/// Opens the window and runs until it is closed. @param files  to open at once  @return the exit status
int runWindow(int& argc, char** argv, const std::vector<std::string>& files);

} // namespace quoin::ui
