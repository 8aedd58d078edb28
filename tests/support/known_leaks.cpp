// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later

/// Read by the leak checker of a sanitize build, by this name; never called otherwise. lib3mf 1.8 leaves some hundred
/// bytes of libzip behind for each package that it opens.
extern "C" const char* __lsan_default_suppressions();
extern "C" const char* __lsan_default_suppressions()
{
    return "leak:libzip.so\n";
}
