#include "parts/seam_step.h"

#include "base/errors.h"
#include "base/maths/hypot.h"
#include "budget/effects/spread.h"
#include "budget/trials/outcome.h"
#include "budget/trials/piece_trials.h"
#include "causes/causes.h"
#include "causes/flip/pin_play.h"

#include <algorithm>
#include <cmath>
#include <memory>
#include <utility>

namespace leastwall {
namespace {

/// A sample of a half's own frame as it lies on the board.
WallSample on_board(const OnBoard& half, const WallSample& p) {
  return {half.place(p.at), half.direction(p.n), p.wall_mm};
}

/// From a change along the normal to one across the outline.
double per_normal(const WallSample& p) {
  return 1 / maths::hypot(p.n.x, p.n.y);
}

/// The step that comes of what is done to both outlines.
Sensitivity step_of(Sensitivity one, Sensitivity other, const SeamInput& input) {
  return [one = std::move(one), other = std::move(other), here = input.one,
          there = input.other](const WallSample& p) {
    return per_normal(p) * (one(on_board(here, p)) - other(on_board(there, p)));
  };
}

/// Whichever of them is the largest at a place.
Sensitivity largest_of(std::vector<Sensitivity> steps) {
  return [steps = std::move(steps)](const WallSample& p) {
    double largest = 0;
    for (const Sensitivity& step : steps)
      if (const double s = step(p); std::abs(s) > std::abs(largest))
        largest = s;
    return largest;
  };
}

/// Errors that vary over a board, as one half has them.
class FieldOfHalf : public ErrorField {
 public:
  FieldOfHalf(std::shared_ptr<const ErrorField> field, const OnBoard& half, double sign)
      : field_(std::move(field)), half_(half), sign_(sign) {}

  std::uint32_t count() const override { return field_->count(); }

  void shares(const WallSample& p, std::vector<ErrorShare>& out) const override {
    const std::size_t begin = out.size();
    field_->shares(on_board(half_, p), out);
    for (std::size_t i = begin; i < out.size(); ++i)
      out[i].c *= sign_ * per_normal(p);
  }

 private:
  std::shared_ptr<const ErrorField> field_;
  OnBoard half_;
  double sign_;
};

/// Both halves have those under them, of one board.
class FieldOfBoth : public ErrorField {
 public:
  FieldOfBoth(const std::shared_ptr<const ErrorField>& field, const OnBoard& one,
              const OnBoard& other)
      : one_(field, one, 1), other_(field, other, -1) {}

  std::uint32_t count() const override { return one_.count(); }

  void shares(const WallSample& p, std::vector<ErrorShare>& out) const override {
    const std::size_t begin = out.size();
    one_.shares(p, out);
    other_.shares(p, out);
    join_shares(out, begin);
  }

 private:
  FieldOfHalf one_, other_;
};

/// What one half does to the step alone; `sign` -1 for the other half.
Cause of_half(Cause cause, const OnBoard& half, double sign) {
  if (cause.field) {
    set_field(cause, std::make_shared<const FieldOfHalf>(cause.field, half, sign));
    return cause;
  }
  const auto here = [half, sign](Sensitivity outline) -> Sensitivity {
    if (!outline)
      return nullptr;
    return [outline = std::move(outline), half, sign](const WallSample& p) {
      return sign * per_normal(p) * outline(on_board(half, p));
    };
  };
  cause.sensitivity = here(std::move(cause.sensitivity));
  cause.sensitivity_2 = here(std::move(cause.sensitivity_2));
  return cause;
}

/// Where the cause that is like `id`, of that board, stands.
std::size_t place_of(const std::vector<Cause>& causes, CauseId id, std::uint32_t board) {
  id.board = board;
  const auto found =
      std::ranges::find_if(causes, [&id](const Cause& cause) { return cause.id == id; });
  if (found == causes.end())
    throw RunError(
        "seam: a roughing mark without its finishing bit; please keep the job and report "
        "it as a fault of leastwall");
  return static_cast<std::size_t>(found - causes.begin());
}

/// The ways in which the board lies, or both boards, that make the larger step.
Sensitivity largest_way(const std::vector<Sensitivity>& ways, const SeamInput& input,
                        bool each_its_own) {
  std::vector<Sensitivity> steps;
  for (std::size_t i = 0; i < ways.size(); ++i)
    for (std::size_t k = 0; k < ways.size(); ++k)
      if (each_its_own || i == k)
        steps.push_back(step_of(ways[i], ways[k], input));
  return largest_of(std::move(steps));
}

/// What a machine whose axes are out of square does to an outline, per unit of the cause: skin
/// against pocket at one place as for a wall, and the pocket face's side against the holes of the
/// dowels, which stand elsewhere. Side A's cuts at y are -e y off in x when the skin is 2 e w off
/// against the pocket (machine (x, y) at (x - e y, y), turned over in causes/flip/out_of_square.h);
/// the holes carry the half along by the rigid motion that fits both.
Sensitivity out_of_square_at(Sensitivity wall, const OnBoard& half,
                             const std::array<GlueDowel, 2>& dowels) {
  constexpr double kPerMetre = 1e-3;
  std::array<Vec3, 2> hole;
  for (std::size_t i = 0; i < 2; ++i)
    hole[i] = half.place(Vec3{dowels[i].at.x, dowels[i].at.y, 0});
  const Vec3 along = hole[1] - hole[0], middle = (hole[0] + hole[1]) * 0.5;
  const double apart2 = length_squared(along);
  // Of the side's shift (-y, 0) at both holes: what lies across them turns the half.
  const double turn = (-(hole[1].y - hole[0].y)) * -along.y / apart2;
  return [wall = std::move(wall), middle, turn](const WallSample& p) {
    const double x = -p.at.y - (-middle.y - turn * (p.at.y - middle.y));
    const double y = -turn * (p.at.x - middle.x);
    return wall(p) + kPerMetre * (p.n.x * x + p.n.y * y);
  };
}

/// One for each way in which the board may hang: on pins along the flip line or across it; which is
/// not known where it is located by edges.
std::vector<Sensitivity> out_of_square_ways(const SeamInput& input, const Cause& cause) {
  const Flip& flip = input.setup.flip;
  if (flip.located_by == LocatedBy::dowels)
    return {cause.sensitivity};
  std::vector<Sensitivity> ways;
  for (const bool along : {true, false}) {
    Setup hung = input.setup;
    hung.flip.located_by = LocatedBy::dowels;
    hung.flip.dowels = Dowels{};
    hung.flip.dowels->spacing_mm = 1;
    hung.flip.dowels->along_flip_line = along;
    std::vector<Assumption> told;
    for (Cause& other : causes_of(hung, told))
      if (other.id.kind == CauseKind::out_of_square)
        ways.push_back(std::move(other.sensitivity));
  }
  return ways;
}

Sensitivity out_of_square_step(const SeamInput& input, const Cause& cause) {
  std::vector<Sensitivity> steps;
  for (const Sensitivity& wall : out_of_square_ways(input, cause))
    steps.push_back(step_of(out_of_square_at(wall, input.one, input.dowels),
                            out_of_square_at(wall, input.other, input.dowels), input));
  return largest_of(std::move(steps));
}

/// Two dowels in two halves.
void add_glue_up_play(const std::array<GlueDowel, 2>& dowels, std::vector<Cause>& causes) {
  const Point2 a = dowels[0].at, b = dowels[1].at;
  const double apart = maths::hypot(b.x - a.x, b.y - a.y);
  const PinPair pins{
      {(a.x + b.x) / 2, (a.y + b.y) / 2}, {(b.x - a.x) / apart, (b.y - a.y) / apart}, apart};
  for (std::uint32_t i = 0; i < 4; ++i) {
    const GlueDowel& dowel = dowels[i % 2];
    if (dowel.clearance_mm == 0)
      continue;
    Cause cause;
    cause.id = {CauseKind::glue_up_play, {}, i + 1};
    cause.distribution = Distribution::disc;
    cause.size = dowel.clearance_mm;
    set_pin_play(pins, i % 2 == 0 ? -1 : 1, i < 2 ? 1 : -1, cause);
    for (Sensitivity* s : {&cause.sensitivity, &cause.sensitivity_2})
      *s = [along_normal = std::move(*s)](const WallSample& p) {
        return per_normal(p) * along_normal(p);
      };
    causes.push_back(std::move(cause));
  }
}

/// The same causes for a step counted the other way.
std::vector<Cause> turned_round(std::vector<Cause> causes) {
  class Against : public ErrorField {
   public:
    explicit Against(std::shared_ptr<const ErrorField> field) : field_(std::move(field)) {}
    std::uint32_t count() const override { return field_->count(); }
    void shares(const WallSample& p, std::vector<ErrorShare>& out) const override {
      const std::size_t begin = out.size();
      field_->shares(p, out);
      for (std::size_t i = begin; i < out.size(); ++i)
        out[i].c = -out[i].c;
    }

   private:
    std::shared_ptr<const ErrorField> field_;
  };
  const auto against = [](Sensitivity& s) {
    if (s)
      s = [was = std::move(s)](const WallSample& p) { return -was(p); };
  };
  for (Cause& cause : causes) {
    if (cause.field) {
      set_field(cause, std::make_shared<const Against>(cause.field));
      continue;
    }
    against(cause.sensitivity);
    against(cause.sensitivity_2);
  }
  return causes;
}

/// Of each trial the largest step, as a wall that is so much under 0.
std::vector<double> least_of_trials(const std::vector<Cause>& one_way,
                                    const std::vector<Cause>& other_way,
                                    std::span<const WallSample> rim, const TrialOptions& options,
                                    const RunContext& run) {
  const auto least_with = [&](const std::vector<Cause>& causes) {
    return PieceTrials(causes, rim, options, run).least_walls(std::nullopt, run);
  };
  std::vector<double> least = least_with(one_way);
  lessen(least, least_with(other_way), 0);
  return least;
}

} // namespace

std::vector<Cause> seam_causes(const SeamInput& input) {
  std::vector<Assumption> told; // with the walls
  Setup setup = input.setup;
  setup.has_land = setup.all_land = true; // the outline ends in the pocket face
  std::vector<Cause> causes = causes_of(setup, told);
  const bool two_boards = input.other_board != setup.outer_cut.board;
  std::vector<Cause> of_other;
  for (Cause& cause : causes) {
    if (two_boards && !of_all_boards(cause.id.kind) && may_vary(cause)) {
      of_other.push_back(of_half(cause, input.other, -1));
      of_other.back().id.board = input.other_board;
      cause = of_half(cause, input.one, 1);
      continue;
    }
    if (cause.field) {
      set_field(cause, std::make_shared<const FieldOfBoth>(cause.field, input.one, input.other));
      continue;
    }
    if (is_of_bed(cause.id.kind) && may_vary(cause)) { // two places differ by no more than it does
      cause.sensitivity = of_half(cause, input.one, 1).sensitivity;
      continue;
    }
    if (cause.id.kind == CauseKind::out_of_square)
      cause.sensitivity = out_of_square_step(input, cause);
    else
      cause.sensitivity = cause.ways.empty() ? step_of(cause.sensitivity, cause.sensitivity, input)
                                             : largest_way(cause.ways, input, two_boards);
    cause.ways.clear();
    if (cause.sensitivity_2)
      cause.sensitivity_2 = step_of(cause.sensitivity_2, cause.sensitivity_2, input);
  }
  const std::size_t of_one = causes.size();
  for (Cause& cause : of_other) {
    if (cause.overcut) // its finishing causes are those of its own half, behind the first one's
      for (std::size_t& k : cause.overcut->finishing)
        k = of_one + place_of(of_other, causes[k].id, input.other_board);
    causes.push_back(cause);
  }
  add_glue_up_play(input.dowels, causes);
  for (Cause& cause : causes)
    cause.bound = {}; // of a wall
  return causes;
}

SeamRow seam_step(const SeamInput& input, const RunContext& run) {
  const std::vector<Cause> causes = seam_causes(input), against = turned_round(causes);
  std::vector<WallSample> rim;
  for (const RimPoint& p : input.rim)
    rim.push_back({p.at, p.n, 0});

  SeamRow out;
  const Limits limits(causes), limits_against(against);
  const auto place = [&](const RimPoint& p, double worst_mm) {
    const Vec3 a = input.one.place(p.at), b = input.other.place(p.at);
    const auto across = [&](const OnBoard& half) {
      const Vec3 n = unit(half.direction({p.n.x, p.n.y, 0}));
      return Point2{n.x, n.y};
    };
    return SeamPlace{across(input.one), across(input.other), {a.x, a.y},
                     {b.x, b.y},        p.length_mm,         worst_mm};
  };
  std::size_t largest = 0;
  for (std::size_t i = 0; i < rim.size(); ++i) {
    const Limits::At at = limits.at(rim[i]), opposite = limits_against.at(rim[i]);
    const double worst = std::max(at.half_width - at.shift, opposite.half_width - opposite.shift);
    out.expected_mm = std::max(out.expected_mm, std::abs(at.shift));
    if (worst > out.worst_mm)
      largest = i;
    out.worst_mm = std::max(out.worst_mm, worst);
    out.places.push_back(place(input.rim[i], worst));
  }
  out.largest = out.places[largest];
  std::vector<Effect> effects(causes.size());
  effects_at(causes, rim[largest], effects);
  for (std::size_t k = 0; k < causes.size(); ++k)
    if (effects[k].shift != 0 || effects[k].half_width != 0)
      out.causes.push_back({causes[k].id, effects[k].shift, effects[k].half_width});
  std::ranges::stable_sort(out.causes, std::greater(), [](const SeamCause& c) {
    return std::abs(c.expected_mm) + c.half_width_mm;
  });
  out.trials = input.trials;
  const auto trials = static_cast<std::size_t>(input.trials);
  out.in_19_of_20_mm =
      -held_by_all_but(accepted_fails(1.0 / 20, trials),
                       least_of_trials(causes, against, rim, {trials, input.seed, {}}, run));
  return out;
}

} // namespace leastwall
