#include "causes/bit/sanding.h"

#include "base/assumption.h"
#include "base/errors.h"
#include "causes/model/cause_terms.h"
#include "causes/model/error_tiles.h"

#include <cmath>
#include <fmt/format.h>

namespace leastwall {

void add_sanding(const Setup& setup, Side side, std::vector<Cause>& causes,
                 std::vector<Assumption>& assumptions) {
  const SideSetup& s = side_of(setup, side);
  if (!std::isfinite(s.sanding_mm) || s.sanding_mm < 0)
    throw InputError(
        fmt::format("sanding of {} must be 0 or more mm, not {}", side_text(side), s.sanding_mm));
  const auto add = [&](CauseKind kind, std::string_view key, Distribution distribution,
                       double size) {
    Cause cause;
    cause.id = {kind, side};
    cause.setting = side_key(setup, side, key);
    cause.distribution = distribution;
    cause.size = size;
    cause.sensitivity = [](const WallSample&) { return -1.0; };
    cause.on_pad = OnPad::absent;
    causes.push_back(cause);
  };
  if (s.sanding_mm != 0)
    add(CauseKind::sanding, "sanding", Distribution::shift, s.sanding_mm);
  if (s.sanding.size_mm != 0) {
    add(CauseKind::uneven_sanding, "sanding_error", distribution_of(s.sanding.knowledge),
        s.sanding.size_mm);
    if (s.sanding.knowledge == Knowledge::limits)
      causes.back().most = s.sanding_mm; // more would add wood
    vary_over_board(setup, s.sanding_length_mm, "sanding", causes.back(), assumptions);
  }
}

} // namespace leastwall
