#include "budget/trials/tail_of_wall.h"

#include "budget/effects/most_thinning.h"

#include <algorithm>
#include <memory>

namespace leastwall {

PieceTrials::Tail tail_of_wall(std::span<const Cause> causes, const ThinFirst& samples,
                               const TrialOptions& options, std::size_t accepted, double limit_mm,
                               const RunContext& run) {
  const auto draws = draws_of(causes, options, run);
  const auto tail_of = [&](std::span<const WallSample> asked) {
    return PieceTrials(causes, asked, options, draws, run).tail(accepted, limit_mm, run);
  };
  const std::optional<MostThinning> most =
      most_thinning(causes, sizes_of(causes), draws->largest_units(), samples.places());
  if (!most || samples.few())
    return tail_of(samples.all());
  PieceTrials::Tail tail = tail_of(samples.first());
  const double to_mm = std::max(tail.guaranteed_mm, limit_mm) + most->drawn_mm + kRounding_mm;
  if (to_mm <= samples.first_to_mm())
    return tail;
  const std::vector<WallSample> thin = samples.under(to_mm);
  return tail_of(thin.size() < samples.all().size() ? thin : samples.all());
}

} // namespace leastwall
