#include "budget/trials/local_errors.h"

#include "budget/trials/counter_rng.h"

namespace leastwall {

LocalErrors::LocalErrors(std::span<const Cause> causes, std::uint64_t seed) {
  for (std::size_t k = 0; k < causes.size(); ++k) {
    const Cause& cause = causes[k];
    if (!cause.field)
      continue;
    fields_.push_back(
        {k, static_cast<std::uint32_t>(errors_.size()), cause.field, cause.distribution});
    const std::uint64_t stream = stream_of(cause.id);
    for (std::uint32_t i = 0; i < cause.field->count(); ++i)
      errors_.push_back({k, stream_start(seed, stream_of_part(stream, i)), cause.distribution});
  }
}

void LocalErrors::shares_at(const WallSample& p, std::vector<ErrorShare>& out) const {
  for (const Field& f : fields_) {
    const std::size_t begin = out.size();
    f.field->shares(p, out);
    for (std::size_t i = begin; i < out.size(); ++i)
      out[i].error += f.first;
  }
}

double LocalErrors::unit_reach(std::uint32_t error) const {
  return errors_[error].distribution.largest_draw();
}

double LocalErrors::unit_draw(std::uint32_t error, std::size_t trial) const {
  const Error& e = errors_[error];
  const double u1 = uniform_draw_from(e.start, trial, 0);
  return e.distribution.unit_draw(
      u1, e.distribution.takes_two() ? uniform_draw_from(e.start, trial, 1) : 0.5);
}

} // namespace leastwall
