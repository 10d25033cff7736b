// Pockets as columns of air on a lattice seen from above: what two of them have in common, and
// where one lies on itself. A guide beside the exact volume, never the volume itself.
#pragma once

#include "base/run_context.h"
#include "mesh/mesh.h"

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace leastwall {

/// Places of a lattice, `step_mm` apart; the first one a little beside the corner, so that edges of
/// drawn shapes seldom run through them.
struct ColumnLattice {
  double left_mm = 0, near_mm = 0, step_mm = 1;
  std::size_t nx = 0, ny = 0;
  double cell_mm2() const { return step_mm * step_mm; }
};

/// Over the box, `across` places along its longer side (1 to 4096); fewer, though never under 8,
/// where the facets of all meshes cover more than kMostVisits places together.
ColumnLattice column_lattice(const Box& box, std::size_t across,
                             const std::vector<const TriMesh*>& meshes);

inline constexpr std::size_t kMostVisits = 20'000'000;

/// Of each place the heights at which it enters and leaves air, from below.
struct AirColumns {
  std::vector<std::uint32_t> first; ///< of each place, and one more
  std::vector<std::array<double, 2>> air;
  double overlap_mm = 0; ///< lengths counted twice or less than never, of all places together
  double length_mm = 0;  ///< of all air
};

/// `wet`: facets that look out of the air, open at the face. Where facets are crossed twice as
/// deep, or the wrong way round, there is air as well, and the length counts as overlap.
AirColumns air_columns(const TriMesh& wet, double face_z_mm, const ColumnLattice& lattice,
                       const RunContext& run);

/// Lengths of all places together: of the air that all of `taken` take out of `from`; what each of
/// them has outside it; and what two of them have in common. All on one lattice.
struct TakenOut {
  double taken_mm = 0;
  double outside_mm = 0;
  double shared_mm = 0;
};
TakenOut taken_out(const AirColumns& from, const std::vector<const AirColumns*>& taken);

} // namespace leastwall
