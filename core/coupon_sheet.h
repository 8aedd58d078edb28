// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/coupon_file.h"
#include "core/json_place.h"

namespace quoin::core {

/// coupon.json, for core/coupon_file.cpp. Schema: DEVELOPERS.md, "coupon.json".
inline constexpr const char* couponSheetName = "coupon.json";
nlohmann::ordered_json couponJson(const Coupon& coupon);
/// Whether a file says that it is the sheet of a coupon.
bool isCouponSheet(const std::filesystem::path& file);

} // namespace quoin::core
