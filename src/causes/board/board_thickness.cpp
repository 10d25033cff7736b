#include "causes/board/board_thickness.h"

#include "base/assumption.h"
#include "base/errors.h"
#include "bed/readings_lookup.h"
#include "causes/model/cause_terms.h"
#include "causes/model/error_tiles.h"
#include "causes/model/land.h"
#include "setup/place.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>

namespace leastwall {
namespace {

double top(const SideSetup& side) {
  return side.zero == ZeroFrom::top ? 1.0 : 0.0;
}

double mean_reading(const BedMap& map) {
  double sum = 0;
  for (const Vec3& p : map.points())
    sum += p.z;
  return sum / static_cast<double>(map.points().size());
}

Cause board_cause(const CauseId& id, Distribution distribution, double size, Sensitivity c,
                  double most) {
  Cause cause;
  cause.id = id;
  cause.distribution = distribution;
  cause.size = size;
  cause.sensitivity = std::move(c);
  cause.bound = at_most(most);
  return cause;
}

void add_readings(const Setup& setup, const AssumedThickness& assumed, std::vector<Cause>& causes,
                  std::vector<Assumption>& assumptions) {
  const std::shared_ptr<const BedMap> map = setup.board.thickness_readings;
  const double k_a = top(setup.inner), k_b = top(setup.outer);
  double fixed = (1 - k_a) * *assumed.a, on_land = -k_b * *assumed.b;
  if (k_a != 0)
    fixed += height_or_lowest(*map, touch_point_of(setup, Side::a, assumptions));
  if (k_b != 0)
    on_land += height_or_lowest(*map, touch_point_of(setup, Side::b, assumptions));
  fixed += on_land;
  Cause cause = board_cause(
      {CauseKind::board_as_read}, Distribution::shift, 1,
      [map, fixed, on_land, land = land_of(setup)](const WallSample& p) {
        return vertical(p) *
               (land(p) ? on_land : fixed - height_or_highest(*map, {p.at.x, p.at.y}));
      },
      std::max({std::abs(on_land), std::abs(fixed - map->lowest().z),
                std::abs(fixed - map->highest().z)}));
  cause.unit.clear();
  causes.push_back(cause);
}

/// The identity of what varies under a touch point, where the job numbers these; `otherwise` where
/// it does not.
CauseId at_touch(const CutId& cut, std::uint32_t otherwise) {
  return {CauseKind::board_at_touch, {}, cut.touch_place.value_or(otherwise)};
}

/// Two cuts with the same face up: P_inner - P_outer, whatever the board is under the wall.
void add_between_set_ups(const Setup& setup, const AssumedThickness& assumed,
                         std::vector<Cause>& causes, std::vector<Assumption>& assumptions) {
  if (same_datum(setup) && assumed.a == assumed.b)
    return;
  const std::array<CutView, 2> cuts = cuts_of(setup);
  const auto hangs = [&](const CutView& cut, double thickness, std::optional<double> program) {
    return cut.how.zero == ZeroFrom::top ? thickness : program.value_or(thickness);
  };
  const auto add = [&](const CauseId& id, Distribution distribution, double size, double c,
                       const char* key) {
    causes.push_back(board_cause(
        id, distribution, size, [c](const WallSample& p) { return c * vertical(p); }, std::abs(c)));
    causes.back().setting = key;
  };
  const double k_i = top(setup.inner), k_o = top(setup.outer), height = cuts[0].height;
  double shift = 0;
  if (setup.board.thickness_readings) {
    const auto at = [&](const CutView& cut) {
      return height_or_lowest(*setup.board.thickness_readings,
                              touch_point_of(setup, cut.how, cut.id.side, assumptions));
    };
    shift = hangs(cuts[0], k_i != 0 ? at(cuts[0]) : 0, assumed.a) -
            hangs(cuts[1], k_o != 0 ? at(cuts[1]) : 0, assumed.b);
  } else if (const std::optional<double> t = real_thickness(setup, assumptions)) {
    shift = hangs(cuts[0], *t, assumed.a) - hangs(cuts[1], *t, assumed.b);
  }
  if (shift != 0)
    add({CauseKind::board_against_two_programs}, Distribution::shift, shift, height, "");
  const Uncertain& error = setup.board.thickness_error;
  if (error.size_mm != 0 && k_i != k_o)
    add({CauseKind::board_thickness}, distribution_of(error.knowledge), error.size_mm,
        height * (k_i - k_o), "board.thickness_error");
  if (setup.board.variation_mm == 0 || setup.board.thickness_readings || same_datum(setup))
    return;
  for (const CutView& cut : cuts)
    if (cut.how.zero == ZeroFrom::top)
      add(at_touch(cut.id, cut.outer ? 2 : 1), Distribution::rectangle, setup.board.variation_mm,
          cut.height, "board.variation");
}

void add_variation(const Setup& setup, std::vector<Cause>& causes,
                   std::vector<Assumption>& assumptions) {
  const double v = setup.board.variation_mm;
  const bool a = setup.inner.zero == ZeroFrom::top, b = setup.outer.zero == ZeroFrom::top;
  const auto add = [&, land = land_of(setup)](const CauseId& id, double k, double on_land,
                                              OnPad on_pad) {
    Cause cause = board_cause(
        id, Distribution::rectangle, v,
        [k, on_land, land](const WallSample& p) { return (land(p) ? on_land : k) * vertical(p); },
        std::max(std::abs(k), std::abs(on_land)));
    cause.setting = "board.variation";
    cause.on_pad = on_pad;
    causes.push_back(cause);
  };
  if (a && b &&
      touch_point_of(setup, Side::a, assumptions) == touch_point_of(setup, Side::b, assumptions)) {
    add(at_touch(setup.inner_cut, 0), 2, 1, OnPad::same);
  } else {
    if (a)
      add(at_touch(setup.inner_cut, 1), 1, 0, OnPad::same);
    if (b)
      add(at_touch(setup.outer_cut, 2), 1, 1, OnPad::same);
  }
  add({CauseKind::board_under_wall}, -1, 0, OnPad::own_draw);
  vary_over_board(setup, setup.board.variation_length_mm, "the board's thickness", causes.back(),
                  assumptions);
}

} // namespace

AssumedThickness assumed_thickness(const Setup& setup, std::vector<Assumption>& assumptions) {
  AssumedThickness t{setup.inner.assumed_thickness_mm, setup.outer.assumed_thickness_mm};
  std::optional<double> board = setup.board.assumed_thickness_mm;
  if (!board && (!t.a || !t.b)) {
    board = setup.board.measured_thickness_mm;
    if (!board && setup.board.thickness_readings)
      board = mean_reading(*setup.board.thickness_readings);
    if (board)
      note(assumptions,
           fmt::format("the programs were made for a board as thick as measured, {:.3f} mm",
                       *board));
  }
  if (!t.a)
    t.a = board;
  if (!t.b)
    t.b = board;
  for (const std::optional<double>& v : {t.a, t.b})
    if (v && (!std::isfinite(*v) || *v <= 0))
      throw InputError(fmt::format("the assumed thickness must be above 0 mm, not {}", *v));
  return t;
}

std::optional<double> real_thickness(const Setup& setup, std::vector<Assumption>& assumptions) {
  const Board& board = setup.board;
  if (board.measured_thickness_mm)
    return board.measured_thickness_mm;
  if (board.thickness_readings)
    return mean_reading(*board.thickness_readings);
  if (board.assumed_thickness_mm)
    return board.assumed_thickness_mm;
  const std::optional<double> a = setup.inner.assumed_thickness_mm,
                              b = setup.outer.assumed_thickness_mm;
  if (!a || !b || *a == *b)
    return a ? a : b;
  const double t = top(setup.inner) + top(setup.outer) > 1 ? std::min(*a, *b) : std::max(*a, *b);
  note(assumptions, fmt::format("nothing says how thick the board is: it is taken as {:.3f} mm, "
                                "the one of both programs' thicknesses that leaves less wall",
                                t));
  return t;
}

void add_board_thickness(const Setup& setup, std::vector<Cause>& causes,
                         std::vector<Assumption>& assumptions) {
  const Board& board = setup.board;
  const double k_a = top(setup.inner), k_b = top(setup.outer), k = k_a + k_b - 1;
  const auto land = land_of(setup);
  const auto times = [&land](double walls, double on_land) {
    return [walls, on_land, land](const WallSample& p) {
      return (land(p) ? on_land : walls) * vertical(p);
    };
  };
  const AssumedThickness assumed = assumed_thickness(setup, assumptions);
  if (same_side(setup)) {
    add_between_set_ups(setup, assumed, causes, assumptions);
    return;
  }
  if (board.thickness_readings) {
    add_readings(setup, assumed, causes, assumptions);
  } else if (assumed.a && assumed.b) {
    const double t = *real_thickness(setup, assumptions);
    const bool one_program = *assumed.a == *assumed.b;
    const double e = one_program ? t - *assumed.a
                                 : k_a * t + (1 - k_a) * *assumed.a + k_b * (t - *assumed.b) - t;
    if (one_program && e != 0)
      causes.push_back(board_cause({CauseKind::board_against_program}, Distribution::shift, e,
                                   times(k, k_b), std::max(std::abs(k), k_b)));
    if (!one_program) {
      const double on_land = k_b * (t - *assumed.b), size = e != 0 ? e : 1;
      causes.push_back(board_cause({CauseKind::board_against_two_programs}, Distribution::shift,
                                   size, times(e / size, on_land / size),
                                   std::max(std::abs(e), std::abs(on_land)) / std::abs(size)));
    }
  }
  if (board.thickness_error.size_mm != 0) {
    causes.push_back(
        board_cause({CauseKind::board_thickness}, distribution_of(board.thickness_error.knowledge),
                    board.thickness_error.size_mm, times(k, k_b), std::max(std::abs(k), k_b)));
    causes.back().setting = "board.thickness_error";
  }
  if (board.variation_mm != 0 && !board.thickness_readings)
    add_variation(setup, causes, assumptions);
}

} // namespace leastwall
