#include "causes/model/cause_terms.h"

#include <utility>

namespace leastwall {

Cause vertical_cause(const CauseId& id, const Uncertain& error) {
  Cause cause;
  cause.id = id;
  cause.distribution = distribution_of(error.knowledge);
  cause.size = error.size_mm;
  cause.sensitivity = vertical;
  return cause;
}

Cause vertical_cause(const CauseId& id, const Uncertain& error, std::string setting) {
  Cause cause = vertical_cause(id, error);
  cause.setting = std::move(setting);
  return cause;
}

std::string side_key(const Setup& setup, Side side, std::string_view key) {
  return (side_of(setup, side).of_pocket ? "part.pocket." : "") +
         std::string(side == Side::a ? "side_a." : "side_b.") + std::string(key);
}

} // namespace leastwall
