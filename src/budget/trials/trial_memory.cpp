#include "budget/trials/trial_memory.h"

#include "base/assumption.h"
#include "budget/trials/trial_draws.h"
#include "causes/causes.h"
#include "setup/place.h"

#include <string>
#include <vector>

namespace leastwall {
namespace {

// Least walls and their copies, and which trials failed at three sizes of an error.
constexpr std::uint64_t kBesideDraws_bytes = 64;
// A change that is tried may have an error more than the set-up: two touch points instead of one.
constexpr std::uint64_t kMoreScalars = 2;

} // namespace

std::uint64_t trial_memory_bytes(const Setup& stated, const Box& box, std::uint64_t trials) {
  const Setup setup = with_footprint_of(stated, box);
  std::vector<Assumption> assumptions;
  const std::vector<Cause> causes = causes_of(setup, assumptions);
  const std::uint64_t scalars = scalars_of(causes).size() + kMoreScalars;
  return trials * (scalars * sizeof(double) + kBesideDraws_bytes);
}

} // namespace leastwall
