#include "budget/local_errors.h"

#include "budget/draws.h"

namespace leastwall {

LocalErrors::LocalErrors(std::span<const Cause> causes, std::uint64_t seed) {
  for (std::size_t k = 0; k < causes.size(); ++k) {
    const Cause& cause = causes[k];
    if (!cause.field)
      continue;
    const bool normal = cause.distribution == Distribution::normal;
    fields_.push_back({k, static_cast<std::uint32_t>(errors_.size()), cause.field, normal});
    const std::uint64_t stream = stream_of(cause.name);
    for (std::uint32_t i = 0; i < cause.field->count(); ++i)
      errors_.push_back({k, stream_start(seed, stream_of_part(stream, i)), normal});
  }
}

void LocalErrors::shares_at(const CausePoint& p, std::vector<ErrorShare>& out) const {
  for (const Field& f : fields_) {
    const std::size_t begin = out.size();
    f.field->shares(p, out);
    for (std::size_t i = begin; i < out.size(); ++i)
      out[i].error += f.first;
  }
}

double LocalErrors::unit_reach(std::uint32_t error) const {
  return errors_[error].normal ? kLargestUnitDraw : 1.0;
}

double LocalErrors::unit_draw(std::uint32_t error, std::size_t trial) const {
  const Error& e = errors_[error];
  const double u = uniform_draw_from(e.start, trial, 0);
  return e.normal ? normal_draw(u, uniform_draw_from(e.start, trial, 1)) : 2 * u - 1;
}

} // namespace leastwall
