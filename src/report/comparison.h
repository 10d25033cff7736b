// What differs between an earlier check and this one, as far as both tell it.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace leastwall {

/// Something stated in words; empty: that check does not tell it.
struct ComparedWords {
  std::string what, before, after;
};

/// Absent: that check does not tell it.
struct ComparedNumber {
  std::optional<double> before, after;
};

/// Verdicts are the words of the JSON; lengths mm; `too_thin`: fraction 0..1.
struct ComparedWall {
  std::string name; ///< "left half: skin to candle room"
  std::string verdict_before, verdict_after;
  ComparedNumber expected_mm, worst_mm, too_thin;
};

struct Comparison {
  std::string file;   ///< of the earlier check, as given by the user
  ComparedWall whole; ///< of the job, its governing wall and its chance; without a name
  std::vector<ComparedWords> setup, meshes; ///< only what differs
  std::string title_before, title_after; ///< only where they differ
  bool by_keys = false; ///< both tell every key of their jobs, and `setup` compares these
  std::vector<std::string> stated_now;   ///< keys left out then, now stated or not asked for
  std::vector<std::string> left_out_now; ///< the other way round
  std::vector<ComparedWall> walls;       ///< told by both, where there are several
  std::size_t walls_of_one = 0;          ///< so many only one of the two has
};

} // namespace leastwall
