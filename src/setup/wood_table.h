// Wood that moves: species, change of size with moisture, and the moisture wood settles at.
//
// Source: Wood Handbook, Forest Products Laboratory (FPL-GTR-190 and its successor FPL-GTR-282):
// Table 13-5 (coefficients), 4-3/4-4 (shrinkage), 5-3 (specific gravity, stiffness), Eq. 13-2,
// 13-3, 4-10 and the sorption formula under Table 4-2. What was known from memory only says so.
#pragma once

#include <optional>
#include <span>
#include <string_view>

namespace leastwall {

struct WoodSpecies {
  std::string_view name;
  /// Change of size per 1 % moisture content, radial and tangential, from 6 to 14 %.
  double radial_per_percent = 0, tangential_per_percent = 0;
  /// Shrinkage from green to oven-dry, % of the green size.
  std::optional<double> radial_shrinkage, tangential_shrinkage, volume_shrinkage;
  std::optional<double> specific_gravity; ///< at 12 % moisture content
  std::optional<double> stiffness_mpa;    ///< modulus of elasticity along the grain, 12 %
  std::optional<double> density_kg_m3;    ///< with its water, at 12 %
  std::string_view source;                ///< what is not from the Handbook tables, or ""
};

std::span<const WoodSpecies> wood_species();

/// By name, "maple" and the like included; case does not matter. Throws InputError with the known
/// names.
const WoodSpecies& find_wood(std::string_view name);

} // namespace leastwall
