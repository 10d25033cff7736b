#include "causes/model/cause_terms.h"

#include <cmath>
#include <utility>

namespace leastwall {
namespace {

std::string key_in(const std::string& pocket_key, Side side, std::string_view key) {
  return pocket_key + (side == Side::a ? "side_a." : "side_b.") + std::string(key);
}

} // namespace

Sensitivity too_shallow(double height) {
  if (height == 1)
    return vertical;
  return [height](const WallSample& p) { return height * vertical(p); };
}

Cause vertical_cause(CauseKind kind, const CutView& cut, const Uncertain& error,
                     std::string_view key) {
  Cause cause;
  cause.id = id_of(kind, cut);
  cause.distribution = distribution_of(error.knowledge);
  cause.size = error.size_mm;
  cause.sensitivity = too_shallow(cut.height);
  cause.bound = at_most(std::abs(cut.height));
  cause.setting = cut_key(cut, key);
  return cause;
}

std::string side_key(const Setup& setup, Side side, std::string_view key) {
  return key_in(side_of(setup, side).pocket_key, side, key);
}

std::string cut_key(const CutView& cut, std::string_view key) {
  return key_in(cut.how.pocket_key, cut.id.side, key);
}

} // namespace leastwall
