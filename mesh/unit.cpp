// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/model_file.h"

#include <fmt/format.h>

#include <array>

namespace quoin::mesh {

namespace {

struct UnitName {
    std::string_view name; ///< lower case
    Unit unit;
};

// Symbols of the SI (BIPM brochure) and of ISO 80000-3, English names in both spellings, the 3MF core names.
constexpr std::array unitNames = {
    UnitName{"um", Unit::Micron},
    UnitName{"\xC2\xB5m", Unit::Micron}, // micro sign
    UnitName{"\xCE\xBCm", Unit::Micron}, // Greek mu
    UnitName{"micron", Unit::Micron},
    UnitName{"microns", Unit::Micron},
    UnitName{"micrometre", Unit::Micron},
    UnitName{"micrometres", Unit::Micron},
    UnitName{"micrometer", Unit::Micron},
    UnitName{"micrometers", Unit::Micron},
    UnitName{"mm", Unit::Millimetre},
    UnitName{"millimetre", Unit::Millimetre},
    UnitName{"millimetres", Unit::Millimetre},
    UnitName{"millimeter", Unit::Millimetre},
    UnitName{"millimeters", Unit::Millimetre},
    UnitName{"cm", Unit::Centimetre},
    UnitName{"centimetre", Unit::Centimetre},
    UnitName{"centimetres", Unit::Centimetre},
    UnitName{"centimeter", Unit::Centimetre},
    UnitName{"centimeters", Unit::Centimetre},
    UnitName{"in", Unit::Inch},
    UnitName{"in.", Unit::Inch},
    UnitName{"inch", Unit::Inch},
    UnitName{"inches", Unit::Inch},
    UnitName{"\"", Unit::Inch},
    UnitName{"''", Unit::Inch},
    UnitName{"\xE2\x80\xB3", Unit::Inch}, // double prime
    UnitName{"\xE2\x80\x9D", Unit::Inch}, // closing quote
    UnitName{"ft", Unit::Foot},
    UnitName{"ft.", Unit::Foot},
    UnitName{"foot", Unit::Foot},
    UnitName{"feet", Unit::Foot},
    UnitName{"'", Unit::Foot},
    UnitName{"\xE2\x80\xB2", Unit::Foot}, // prime
    UnitName{"\xE2\x80\x99", Unit::Foot}, // apostrophe
    UnitName{"m", Unit::Metre},
    UnitName{"metre", Unit::Metre},
    UnitName{"metres", Unit::Metre},
    UnitName{"meter", Unit::Metre},
    UnitName{"meters", Unit::Metre},
};

} // namespace

double millimetresIn(Unit unit)
{
    switch (unit) {
    case Unit::Micron:
        return 0.001;
    case Unit::Millimetre:
        return 1.0;
    case Unit::Centimetre:
        return 10.0;
    case Unit::Inch:
        return 25.4; // exact since 1959
    case Unit::Foot:
        return 304.8;
    case Unit::Metre:
        return 1000.0;
    }
    return 1.0;
}

Result<Unit> unitFromName(std::string_view name)
{
    std::string lower;
    for (const char c : name)
        lower += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    for (const UnitName& known : unitNames)
        if (known.name == lower)
            return known.unit;
    return Problem{Reason::BadArgument, fmt::format("\"{}\" is no unit of length that is known here", name), "", "",
                   "Use micron, mm, cm, m, inch or foot."};
}

std::string unitName(Unit unit)
{
    switch (unit) {
    case Unit::Micron:
        return "micron";
    case Unit::Millimetre:
        return "mm";
    case Unit::Centimetre:
        return "cm";
    case Unit::Inch:
        return "inch";
    case Unit::Foot:
        return "foot";
    case Unit::Metre:
        return "m";
    }
    return "mm";
}

} // namespace quoin::mesh
