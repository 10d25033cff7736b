#include "causes/model/cuts.h"

namespace leastwall {

namespace {

bool of_touch(CauseKind kind) {
  switch (kind) {
  case CauseKind::touch_off:
  case CauseKind::tool_setter:
  case CauseKind::touch_plate:
  case CauseKind::tip_height:
  case CauseKind::roughing:
    return true;
  default:
    return false;
  }
}

} // namespace

std::array<CutView, 2> cuts_of(const Setup& setup) {
  const double inner = setup.inner_cut.side == Side::a ? 1 : -1;
  const double outer = setup.outer_cut.side == Side::b ? 1 : -1;
  return {CutView{setup.inner, setup.inner_cut, false, inner, -1, -1},
          CutView{setup.outer, setup.outer_cut, true, outer, setup.of_fill ? 1.0 : -1.0, 1}};
}

bool same_datum(const Setup& setup) {
  return same_datum(setup.inner, setup.outer);
}

CauseId id_of(CauseKind kind, const CutView& cut, std::uint32_t instance) {
  return {kind, cut.id.side, instance, false, of_touch(kind) ? cut.id.touch : cut.id.set_up};
}

} // namespace leastwall
