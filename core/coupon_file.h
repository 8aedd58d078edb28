// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/fit_coupon.h"

#include <filesystem>

namespace quoin::core {

/// Writes the coupon's parts as STL files, coupon.json (the sheet) and coupon.txt (the same to read, with what to do).
/// Everything is written into a folder beside, read back and checked to be sound, then moved into place.
/// @param force  may replace the files of an earlier coupon in the folder; what else is there stays
/// @return FileExists when something else stands at that name, FileUnwritable, or what was wrong with a file.
Status writeCoupon(const Coupon& coupon, const std::filesystem::path& folder, bool force);

/// The sheet of a coupon's folder, or of its coupon.json itself. Problems name the file and the place in it.
Result<CouponSheet> readCouponSheet(const std::filesystem::path& folder);

/// The sheet to read: the numbers with their clearances, and how to find the answers.
std::string couponText(const Coupon& coupon);

} // namespace quoin::core
