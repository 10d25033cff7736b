// The walls of a job: which two cuts face each other, and how each is made.
#pragma once

#include "job/job.h"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace leastwall {

/// One cut of a part.
struct PartCut {
  enum class Kind : std::uint8_t { skin, pocket, hole };
  Kind kind = Kind::skin;
  std::size_t number = 0; ///< of the part's pockets or holes
  bool operator==(const PartCut&) const = default;
};

/// One wall of a job. Between the skin and a pocket or hole; of resin, between a pocket and one
/// that is cut into it; or beside one another, two pockets or holes in the same wood or resin.
struct JobWall {
  std::size_t part = 0;
  PartCut outer, inner;
  bool beside = false;                ///< neither lies in the other
  std::optional<std::size_t> same_as; ///< earlier wall that it mirrors: the same meshes
  Setup setup;
  double limit_mm = 0;
};

/// Every wall in the order of parts, pockets and holes: each pair of cuts with nothing else between
/// them. What lies in the resin of a pocket is kept from the wood by that pocket. `top_z_mm` as for
/// setup_of(). Beside one another the larger of both limits counts. Numbers the set-ups:
/// * a pocket with a table side_a of its own is cut in a set-up of its own, all others in the
/// job's;
///   the halves of a pair share theirs;
/// * a set-up of its own has a touch-off, a tip height and a seat on the pins of its own; the bed,
///   the board, the plate and, where the table states no bit, the bit are those of the job;
/// * a hole is drilled in the job's set-up of its side, by a drill that touches the datum anew,
///   one for each diameter;
/// * parts on another board have all set-ups again, with bits, machine and bed in common.
std::vector<JobWall> walls_of(const Job& job, double top_z_mm);

/// The set-up of its side that a cut of a part is made in (CutId); 0 where no wall has the cut.
std::uint32_t set_up_of(std::span<const JobWall> walls, std::size_t part, const PartCut& cut);

/// "skin", or the name of the pocket or hole; "pocket 2", "hole 3" for one without a name.
std::string cut_name(const Part& part, const PartCut& cut);

/// What the set-ups of a job share and what is drawn anew, a line each; none for one set-up a side.
std::vector<Assumption> what_set_ups_share(const Job& job);

} // namespace leastwall
