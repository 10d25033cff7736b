#include "setup/cause_terms.h"

#include <algorithm>
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

std::string side_words(Side side) {
  return side == Side::a ? "side A" : "side B";
}

void note(std::vector<std::string>& assumptions, std::string line) {
  if (std::find(assumptions.begin(), assumptions.end(), line) == assumptions.end())
    assumptions.push_back(std::move(line));
}

} // namespace leastwall
