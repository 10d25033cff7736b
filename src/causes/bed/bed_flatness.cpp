#include "causes/bed/bed_flatness.h"

#include "causes/model/cause_terms.h"

namespace leastwall {

void add_bed_flatness(const Setup& setup, const CutView& cut, std::vector<Cause>& causes) {
  if (setup.bed.readings || setup.bed.flatness_mm.value_or(0) == 0)
    return;
  const bool between_points = same_side(setup); // not from a touch point to a place of the wall
  if (between_points && (cut.outer || same_datum(setup)))
    return;
  Cause cause =
      vertical_cause(CauseKind::bed_flatness, cut, {*setup.bed.flatness_mm, Knowledge::limits}, "");
  cause.setting = "bed.flatness";
  cause.id.set_up = cut.id.datum;
  cause.id.instance = between_points ? 1 : 0;
  cause.on_pad = OnPad::difference_within;
  causes.push_back(cause);
}

} // namespace leastwall
