#include "causes/bit/sanding.h"

#include "base/assumption.h"
#include "base/errors.h"
#include "causes/model/cause_terms.h"
#include "causes/model/error_tiles.h"

#include <cmath>
#include <fmt/format.h>

namespace leastwall {

void add_sanding(const Setup& setup, const CutView& cut, std::vector<Cause>& causes,
                 std::vector<Assumption>& assumptions) {
  const SideSetup& s = cut.how;
  if (!std::isfinite(s.sanding_mm) || s.sanding_mm < 0)
    throw InputError(fmt::format("sanding of {} must be 0 or more mm, not {}",
                                 side_text(cut.id.side), s.sanding_mm));
  const auto add = [&](CauseKind kind, std::string_view key, Distribution distribution,
                       double size) {
    Cause cause;
    cause.id = id_of(kind, cut);
    cause.setting = cut_key(cut, key);
    cause.distribution = distribution;
    cause.size = size;
    cause.sensitivity = [removal = cut.removal](const WallSample&) { return removal; };
    cause.bound = at_most(std::abs(cut.removal));
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
