#include "causes/model/join_same.h"

#include <cstddef>
#include <utility>

namespace leastwall {
namespace {

bool may_join(const Cause& cause) {
  return cause.distribution != Distribution::shift && !cause.field;
}

void add_to(Sensitivity& first, Sensitivity second) {
  if (first && second)
    first = [one = std::move(first), other = std::move(second)](const WallSample& p) {
      return one(p) + other(p);
    };
}

ChangeBound sum_of(const ChangeBound& first, const ChangeBound& second) {
  if (!first || !second)
    return {};
  return [first, second](const Places& places) { return first(places) + second(places); };
}

} // namespace

void join_same(std::vector<Cause>& causes) {
  std::vector<std::size_t> stays(causes.size()); // new place of each cause
  std::size_t kept = 0;
  for (std::size_t i = 0; i < causes.size(); ++i) {
    std::size_t first = kept;
    if (may_join(causes[i]))
      for (std::size_t k = 0; k < kept && first == kept; ++k)
        if (may_join(causes[k]) && causes[k].id == causes[i].id)
          first = k;
    stays[i] = first;
    if (first < kept) {
      causes[first].bound = sum_of(causes[first].bound, causes[i].bound);
      add_to(causes[first].sensitivity, std::move(causes[i].sensitivity));
      add_to(causes[first].sensitivity_2, std::move(causes[i].sensitivity_2));
    } else {
      if (kept != i)
        causes[kept] = std::move(causes[i]);
      ++kept;
    }
  }
  causes.resize(kept);
  if (kept < stays.size())
    for (Cause& cause : causes)
      if (cause.overcut)
        for (std::size_t& finishing : cause.overcut->finishing)
          finishing = stays[finishing];
}

} // namespace leastwall
