// How far a bed sags between its supports, when no one has measured it.
//
// The bed as a strip (beam) between two supports, or as a plate held up along its four edges; with
// or without a support in the middle; under its own weight and under a board lying in the middle.
// Shear is included. Sag that was there when the bed was surfaced was milled away: only what comes
// after, the board's weight above all, bends the bed as the spindle sees it.
//
// Beams: Wood Handbook (FPL-GTR-282) Eq. 9-1, A' = 5/6 b h, G = E/16 unless stated. Plates:
// Navier's double series (Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, from
// memory), shear after Mindlin as deflection of the plate's Marcus moment (Wang, Reddy and Lee
// 2000, from memory). Panels: Wood Handbook Table 12-1 (read in a copy of FPL-GTR-190).
#pragma once

#include <optional>
#include <span>
#include <string_view>

namespace leastwall {

inline constexpr double kGravity = 9.80665; ///< m/s2, standard

struct PanelKind {
  std::string_view name;
  double low_specific_gravity, high_specific_gravity;
  double low_stiffness_mpa, high_stiffness_mpa; ///< modulus of elasticity
};

/// Wood Handbook Table 12-1.
std::span<const PanelKind> panel_kinds();

struct BedMaterial {
  double stiffness_mpa = 0; ///< modulus of elasticity
  double density_kg_m3 = 0;
  std::optional<double> shear_mpa; ///< default stiffness / 16
  double poisson = 0.3;            ///< plates only
};

/// The unfavourable end of the table: least stiff, heaviest. Throws InputError with known names.
BedMaterial panel_material(std::string_view name);

/// A load spread evenly over the middle of the bed.
struct BedLoad {
  double weight_n = 0;
  double along_mm = 0;  ///< of the loaded patch along the span (plate: along x); 0: a line
  double across_mm = 0; ///< plates only
};

struct BedStrip {
  double span_mm = 0, width_mm = 0, thickness_mm = 0;
  BedMaterial material;
  bool clamped_ends = false; ///< else simply resting
  bool centre_support = false;
  bool with_shear = true;
};

struct BedPlate {
  double size_x_mm = 0, size_y_mm = 0, thickness_mm = 0; ///< between the supported edges
  BedMaterial material;
  bool centre_support = false;
  double post_mm = 50; ///< side of the square pad of the centre support
  bool with_shear = true;
};

struct BedSag {
  double largest_mm = 0;           ///< downward is positive
  double middle_mm = 0;            ///< in the middle of the bed; 0 on a centre support
  double at_x_mm = 0, at_y_mm = 0; ///< of the largest, from the middle (strip: y is 0)
};

/// Weight of the bed itself between its supports, spread over all of it.
BedLoad own_weight(const BedStrip& strip);
BedLoad own_weight(const BedPlate& plate);

/// Sag under the loads together. Throws InputError for sizes or loads that cannot be. A plate's
/// loads of no size (a point) bend it but their shear is left out: it would be without bound.
BedSag bed_sag(const BedStrip& strip, std::span<const BedLoad> loads);
BedSag bed_sag(const BedPlate& plate, std::span<const BedLoad> loads);

} // namespace leastwall
