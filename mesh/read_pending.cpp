// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/model_readers.h"
namespace quoin::mesh {
static Problem pending()
{
    return Problem{Reason::FileUnknownType, "this format is not read yet", "", "", ""};
}
Result<Model> readStlAscii(std::string_view, double, const Context&)
{
    return pending();
}
Result<Model> readObj(std::string_view, double, const Context&)
{
    return pending();
}
Result<Model> readOff(std::string_view, double, const Context&)
{
    return pending();
}
Result<Model> read3mf(std::string_view, const Context&)
{
    return pending();
}
} // namespace quoin::mesh
