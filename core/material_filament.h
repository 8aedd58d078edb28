// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/json_place.h"
#include "core/material.h"
#include "core/material_strength.h"

#include <filesystem>
#include <optional>

/// What a spool of a material is and costs, and how it takes heat: the rest of the material table, beside clearances
/// and density (core/material.h) and strength (core/material_strength.h).
namespace quoin::core {

/// A published range.
struct Span {
    double low = 0, high = 0;
    friend bool operator==(const Span&, const Span&) = default;
};

struct Filament {
    std::string material; ///< as in core/material.h
    double densityGPerCm3 = 0;
    double pricePerKg = 0;    ///< in the maker's currency
    double spoolG = 1000;     ///< of plastic on a full spool
    double diameterMm = 1.75; ///< 1.75 or 2.85
    Span glassTransitionC;    ///< 0 to 0: not known
    Span shrinkage;           ///< share of a length, from the mould or the hot end to room temperature
    std::string densitySource, priceSource, glassTransitionSource, shrinkageSource;
    std::string date; ///< ISO 8601, of the maker's own; empty for shipped ones

    friend bool operator==(const Filament&, const Filament&) = default;
};

/// One a material of core/material.h, in its order.
const std::vector<Filament>& shippedFilaments();

/// Whether the numbers can be used: density 0.1 to 25 g/cm3, price 0 to 100 000, spool 1 g to 100 kg, diameter 1.75 or
/// 2.85 mm give or take 0.15. BadArgument names the field.
Status checkFilament(const Filament& filament);

/// The filaments in force: the maker's own (what a spool really cost, and weighs) over the shipped ones.
class FilamentShelf {
public:
    /// $XDG_CONFIG_HOME/quoin/materials.json, else ~/.config/quoin/materials.json.
    static std::filesystem::path defaultFile();
    /// As readOwnFile (core/own_file.h).
    static Result<FilamentShelf> load(const std::filesystem::path& file);
    Status save(const std::filesystem::path& file) const;

    const std::vector<Filament>& own() const { return m_own; }
    std::vector<Filament> all() const;
    bool isOwn(std::string_view material) const;
    /// By the material's name, any case. BadArgument lists those that there are.
    Result<Filament> find(std::string_view material) const;
    /// BadArgument as checkFilament; also for a material that core/material.h doesn't know, since joints need it.
    Result<FilamentShelf> withFilament(Filament filament) const;
    Result<FilamentShelf> withoutFilament(std::string_view material) const;

private:
    std::vector<Filament> m_own;
};

nlohmann::ordered_json filamentJson(const Filament& filament);

} // namespace quoin::core
