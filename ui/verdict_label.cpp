// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/verdict_label.h"

#include "moc_verdict_label.cpp"
