#include "budget/pad/witness_pad.h"

#include "base/errors.h"
#include "budget/effects/spread.h"
#include "budget/pad/pad_place.h"
#include "causes/model/cause_terms.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <limits>
#include <memory>
#include <utility>

namespace leastwall {
namespace {

Sensitivity less_pad(const Sensitivity& c, const WallSample& pad) {
  return [c, at_pad = c(pad)](const WallSample& p) { return c(p) - vertical(p) * at_pad; };
}

Sensitivity thinnest_less_pad(const std::vector<Sensitivity>& ways, const WallSample& pad) {
  std::vector<double> at_pad;
  for (const Sensitivity& way : ways)
    at_pad.push_back(way(pad));
  return [ways, at_pad](const WallSample& p) {
    double change = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < ways.size(); ++i)
      change = std::min(change, ways[i](p) - vertical(p) * at_pad[i]);
    return change;
  };
}

// How much thicker the pad may be than the thinnest way of this cause makes it.
double thicker_ways(const Cause& cause, const WallSample& pad) {
  double most = cause.sensitivity(pad);
  for (const Sensitivity& way : cause.ways)
    most = std::max(most, way(pad));
  return (most - cause.sensitivity(pad)) * cause.size;
}

Sensitivity pad_alone(const Sensitivity& c, const WallSample& pad) {
  return [at_pad = c(pad)](const WallSample& p) { return -vertical(p) * at_pad; };
}

/// c_i(p) - v(p) c_i(pad): errors of a field by place, so that those which pad and wall share are
/// taken out and the pad's own ones come in.
class LessPad : public ErrorField {
 public:
  LessPad(std::shared_ptr<const ErrorField> field, const WallSample& pad)
      : field_(std::move(field)) {
    field_->shares(pad, at_pad_);
  }
  std::uint32_t count() const override { return field_->count(); }
  void shares(const WallSample& p, std::vector<ErrorShare>& out) const override {
    const std::size_t begin = out.size();
    field_->shares(p, out);
    for (const ErrorShare& s : at_pad_)
      out.push_back({s.error, -vertical(p) * s.c});
    join_shares(out, begin);
  }

 private:
  std::shared_ptr<const ErrorField> field_;
  std::vector<ErrorShare> at_pad_;
};

} // namespace

std::vector<Cause> causes_after_shift(std::span<const Cause> causes, const WallSample& pad,
                                      const Uncertain& reading_error) {
  std::vector<Cause> after(causes.begin(), causes.end());
  for (const Cause& cause : causes) {
    Cause& c = after[static_cast<std::size_t>(&cause - causes.data())];
    c.bound = {}; // of the wall alone
    if (cause.field && cause.on_pad != OnPad::absent) {
      set_field(c, std::make_shared<const LessPad>(cause.field, pad));
    } else if (cause.on_pad == OnPad::same) {
      c.sensitivity = less_pad(cause.sensitivity, pad);
      // The pad was cut with the board lying the same way, whichever that was.
      if (!cause.ways.empty())
        c.sensitivity = thinnest_less_pad(cause.ways, pad);
      if (cause.sensitivity_2)
        c.sensitivity_2 = less_pad(cause.sensitivity_2, pad);
    } else if (cause.on_pad == OnPad::own_draw) {
      Cause own = cause;
      own.bound = {};
      own.id.in_pad = true;
      own.sensitivity = pad_alone(cause.sensitivity, pad);
      if (cause.sensitivity_2)
        own.sensitivity_2 = pad_alone(cause.sensitivity_2, pad);
      after.push_back(own);
    }
  }
  if (reading_error.size_mm != 0) {
    Cause reading;
    reading.id = {CauseKind::pad_reading, Side::b};
    reading.distribution = distribution_of(reading_error.knowledge);
    reading.size = reading_error.size_mm;
    reading.sensitivity = [](const WallSample& p) { return -vertical(p); };
    after.push_back(reading);
  }
  return after;
}

PadReport witness_pad(const Setup& setup, std::span<const Cause> causes,
                      std::span<const WallSample> samples, const WallSample& thinnest,
                      const WitnessPad& pad, const OutcomeOptions& options, const RunContext& run) {
  PadReport report;
  const PadPlace place = pad.at ? PadPlace{*pad.at, pad_clear_of_part(samples, pad.cells, *pad.at)}
                                : pad_place(setup, samples, pad.cells);
  report.at = place.at;
  report.has_room = place.clear;
  report.design_mm = pad.design_mm.value_or(thinnest.wall_mm);
  report.skin_z_mm = thinnest.at.z;
  report.floor_z_mm = thinnest.at.z + report.design_mm;
  if (!place.clear)
    report.notices.push_back(
        {"pad-no-room", fmt::format("The board has no room for a witness pad {:.0f} mm wide that "
                                    "stays clear of the part, the dowels and the touch points: "
                                    "take a larger board, or cut the thinnest place in waste wood "
                                    "and measure it there.",
                                    kPadSize_mm)});
  const WallSample at{{report.at.x, report.at.y, thinnest.at.z}, {0, 0, -1}, report.design_mm};
  std::vector<Effect> effects(causes.size());
  effects_at(causes, at, effects);
  for (std::size_t k = 0; k < causes.size(); ++k)
    if (causes[k].on_pad == OnPad::absent)
      effects[k] = {};
  const Effect sum = sum_of(effects);
  const double reading_half = limit_of(pad.reading_error);
  report.expected_mm = report.design_mm + sum.shift;
  report.low_mm = report.expected_mm - sum.half_width - reading_half;
  report.high_mm = report.expected_mm + sum.half_width + reading_half;
  for (const Cause& cause : causes)
    report.high_mm += thicker_ways(cause, at);

  const std::vector<Cause> after = causes_after_shift(causes, at, pad.reading_error);
  const Outcome outcome = outcome_of(after, samples, options, run);
  report.guaranteed_mm = outcome.guaranteed_mm;
  report.verdict = outcome.verdict;
  if (pad.reading_mm) {
    if (!std::isfinite(*pad.reading_mm) || *pad.reading_mm < 0)
      throw InputError(
          fmt::format("the pad reading must be 0 or more mm, not {}", *pad.reading_mm));
    report.shift_mm = report.design_mm - *pad.reading_mm;
    // To the last digit that is told.
    if (*pad.reading_mm < report.low_mm - 0.0005 || *pad.reading_mm > report.high_mm + 0.0005)
      report.notices.push_back(
          {"pad-reading-unexpected",
           fmt::format("The pad reads {:.3f} mm, outside {:.3f} to {:.3f} mm that the stated "
                       "errors allow: measure again, or find what the job does not state before "
                       "you cut on.",
                       *pad.reading_mm, report.low_mm, report.high_mm),
           Severity::unproven});
  }
  return report;
}

} // namespace leastwall
