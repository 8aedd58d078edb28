// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/hardware.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace quoin::core {

namespace {

constexpr std::array clearanceHoles{
    ClearanceHole{3, 3.2, 3.4, 3.6},   ClearanceHole{4, 4.3, 4.5, 4.8},   ClearanceHole{5, 5.3, 5.5, 5.8},
    ClearanceHole{6, 6.4, 6.6, 7},     ClearanceHole{8, 8.4, 9, 10},      ClearanceHole{10, 10.5, 11, 12},
    ClearanceHole{12, 13, 13.5, 14.5}, ClearanceHole{14, 15, 15.5, 16.5}, ClearanceHole{16, 17, 17.5, 18.5},
    ClearanceHole{18, 19, 20, 21},     ClearanceHole{20, 21, 22, 24},     ClearanceHole{22, 23, 24, 26},
    ClearanceHole{24, 25, 26, 28},
};

constexpr std::array socketHeadScrews{
    SocketHeadScrew{3, 5.5, 5.68, 3, 2.5, 18, 5, 30},    SocketHeadScrew{4, 7, 7.22, 4, 3, 20, 6, 40},
    SocketHeadScrew{5, 8.5, 8.72, 5, 4, 22, 8, 50},      SocketHeadScrew{6, 10, 10.22, 6, 5, 24, 10, 60},
    SocketHeadScrew{8, 13, 13.27, 8, 6, 28, 12, 80},     SocketHeadScrew{10, 16, 16.27, 10, 8, 32, 16, 100},
    SocketHeadScrew{12, 18, 18.27, 12, 10, 36, 20, 120}, SocketHeadScrew{14, 21, 21.33, 14, 12, 40, 25, 140},
    SocketHeadScrew{16, 24, 24.33, 16, 14, 44, 25, 160}, SocketHeadScrew{20, 30, 30.33, 20, 17, 52, 30, 200},
    SocketHeadScrew{24, 36, 36.39, 24, 19, 60, 40, 200},
};

constexpr std::array screwLengths{5.0,   6.0,   8.0,   10.0,  12.0,  16.0,  20.0,  25.0, 30.0, 35.0,
                                  40.0,  45.0,  50.0,  55.0,  60.0,  65.0,  70.0,  80.0, 90.0, 100.0,
                                  110.0, 120.0, 130.0, 140.0, 150.0, 160.0, 180.0, 200.0};

constexpr std::array hexagonNuts{
    HexagonNut{3, 5.5, 5.32, 2.4, 6.01},    HexagonNut{4, 7, 6.78, 3.2, 7.66},
    HexagonNut{5, 8, 7.78, 4.7, 8.79},      HexagonNut{6, 10, 9.78, 5.2, 11.05},
    HexagonNut{8, 13, 12.73, 6.8, 14.38},   HexagonNut{10, 16, 15.73, 8.4, 17.77},
    HexagonNut{12, 18, 17.73, 10.8, 20.03}, HexagonNut{14, 21, 20.67, 12.8, 23.36},
    HexagonNut{16, 24, 23.67, 14.8, 26.75}, HexagonNut{18, 27, 26.16, 15.8, 29.56},
    HexagonNut{20, 30, 29.16, 18, 32.95},   HexagonNut{22, 34, 33, 19.4, 37.29},
    HexagonNut{24, 36, 35, 21.5, 39.55},
};

constexpr std::array plainWashers{
    PlainWasher{3, 3.2, 7, 0.5},  PlainWasher{4, 4.3, 9, 0.8},  PlainWasher{5, 5.3, 10, 1},
    PlainWasher{6, 6.4, 12, 1.6}, PlainWasher{8, 8.4, 16, 1.6}, PlainWasher{10, 10.5, 20, 2},
    PlainWasher{12, 13, 24, 2.5}, PlainWasher{14, 15, 28, 2.5}, PlainWasher{16, 17, 30, 3},
    PlainWasher{18, 19, 34, 3},   PlainWasher{20, 21, 37, 3},   PlainWasher{22, 23, 39, 3},
    PlainWasher{24, 25, 44, 4},
};

constexpr std::array heatSetInserts{
    HeatSetInsert{3, 4.0, 5.7},  HeatSetInsert{4, 5.6, 8.1},  HeatSetInsert{5, 6.4, 9.5},
    HeatSetInsert{6, 8.0, 12.7}, HeatSetInsert{8, 9.6, 12.7}, HeatSetInsert{10, 12.0, 12.7},
};

constexpr auto boltDiameters = [] {
    std::array<double, socketHeadScrews.size()> sizes{};
    for (std::size_t i = 0; i < sizes.size(); ++i)
        sizes[i] = socketHeadScrews[i].d;
    return sizes;
}();

template <class Table>
std::optional<typename Table::value_type> rowOf(const Table& table, double d)
{
    const auto row = std::find_if(table.begin(), table.end(), [&](const auto& r) { return r.d == d; });
    return row == table.end() ? std::nullopt : std::optional(*row);
}

} // namespace

std::optional<ClearanceHole> clearanceHole(double diameterMm)
{
    return rowOf(clearanceHoles, diameterMm);
}

double SocketHeadScrew::threadFromMm(double lengthMm, double pitchMm) const
{
    return std::max(3 * pitchMm, lengthMm - b);
}

std::optional<SocketHeadScrew> socketHeadScrew(double diameterMm)
{
    return rowOf(socketHeadScrews, diameterMm);
}

std::span<const double> screwLengthsMm()
{
    return screwLengths;
}

std::optional<HexagonNut> hexagonNut(double diameterMm)
{
    return rowOf(hexagonNuts, diameterMm);
}

std::optional<PlainWasher> plainWasher(double diameterMm)
{
    return rowOf(plainWashers, diameterMm);
}

std::optional<HeatSetInsert> heatSetInsert(double diameterMm)
{
    return rowOf(heatSetInserts, diameterMm);
}

std::span<const double> boltDiametersMm()
{
    return boltDiameters;
}

} // namespace quoin::core
