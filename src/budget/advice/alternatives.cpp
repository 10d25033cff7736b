#include "budget/advice/alternatives.h"

#include "budget/advice/resurface.h"
#include "budget/advice/touch_alternatives.h"
#include "causes/model/cause_terms.h"

#include <algorithm>
#include <fmt/format.h>
#include <utility>

namespace leastwall {
namespace {

constexpr double kMeasured = 0.02; // a caliper reading of a board, common practice
constexpr double kMoreLeft = 0.1;  // extra allowance for finishing

class Builder {
 public:
  Builder(const Setup& setup, std::vector<Alternative> first)
      : base_(setup), all_(std::move(first)) {}

  std::vector<Alternative> build() {
    touch_plate();
    roughing();
    touch_off();
    dowels();
    board();
    bed();
    return std::move(all_);
  }

 private:
  void add(std::string change, Cost cost, Setup setup, std::vector<JobChange> set) {
    all_.push_back({std::move(change), cost, std::move(setup), std::move(set), false});
  }

  std::string key(Side side, std::string_view name) const { return side_key(base_, side, name); }

  void touch_plate() {
    Setup s = base_;
    std::vector<JobChange> set;
    for (const Side side : {Side::a, Side::b})
      if (side_of(base_, side).plate_error_mm != 0) {
        side_of(s, side).plate_error_mm = 0;
        set.push_back({key(side, "plate_error"), 0.0});
      }
    if (!set.empty())
      add("Enter the real thickness of the touch plate in the machine", Cost::free, std::move(s),
          std::move(set));
  }

  void roughing() {
    for (const Side side : {Side::a, Side::b}) {
      if (!side_of(base_, side).roughing)
        continue;
      Setup s = base_;
      const double left = (side_of(s, side).roughing->allowance_mm += kMoreLeft);
      add(fmt::format("Leave {:.2f} mm for finishing on {}", left, side_text(side)), Cost::free,
          std::move(s), {{key(side, "roughing.allowance"), left}});
    }
  }

  void touch_off() {
    const double most = std::max(base_.inner.touch_off.size_mm, base_.outer.touch_off.size_mm);
    if (most == 0)
      return;
    Setup s = base_;
    std::vector<JobChange> set;
    for (const Side side : {Side::a, Side::b}) {
      Uncertain& error = side_of(s, side).touch_off;
      error.size_mm /= 2;
      if (error.size_mm != 0)
        set.push_back(error_change(key(side, "touch_off"), error));
    }
    add(fmt::format("Touch off twice as well, within {:.3f} mm", most / 2), Cost::work,
        std::move(s), std::move(set));
  }

  void dowels() {
    if (!base_.flip.dowels)
      return;
    const double most =
        std::max(base_.flip.dowels->clearance_1_mm, base_.flip.dowels->clearance_2_mm);
    if (most == 0)
      return;
    Setup s = base_;
    Dowels& d = *s.flip.dowels;
    d.clearance_1_mm /= 2;
    d.clearance_2_mm /= 2;
    std::vector<JobChange> set;
    if (d.each_stated)
      set.push_back(
          {"flip.dowels.clearance", std::vector<double>{d.clearance_1_mm, d.clearance_2_mm}});
    else
      set.push_back({"flip.dowels.clearance", d.clearance_1_mm});
    if (d.from_diameters)
      for (const char* name :
           {"pin_diameter", "hole_diameter", "fit", "bed_hole_diameter", "bed_fit"})
        set.push_back({fmt::format("flip.dowels.{}", name), JobChange::Remove{}});
    add(fmt::format("Fit the dowels with half the play, {:.3f} mm", most / 2), Cost::work,
        std::move(s), std::move(set));
  }

  void board() {
    const Board& b = base_.board;
    if (b.thickness_error.size_mm > kMeasured || b.variation_mm > kMeasured) {
      Setup s = base_;
      std::vector<JobChange> set;
      if (s.board.thickness_error.size_mm > kMeasured) {
        s.board.thickness_error = {kMeasured, Knowledge::limits};
        set.push_back({"board.thickness_error", kMeasured});
      }
      if (s.board.variation_mm > kMeasured) {
        s.board.variation_mm = kMeasured;
        set.push_back({"board.variation", kMeasured});
      }
      add(fmt::format("Measure the board at the touch points and the thin places to {:.2f} mm and "
                      "make the programs for it",
                      kMeasured),
          Cost::work, std::move(s), std::move(set));
    }
    if (b.measured_thickness_mm) {
      const double t = *b.measured_thickness_mm;
      const bool same = b.assumed_thickness_mm.value_or(t) == t &&
                        base_.inner.assumed_thickness_mm.value_or(t) == t &&
                        base_.outer.assumed_thickness_mm.value_or(t) == t;
      if (same)
        return;
      Setup s = base_;
      s.board.assumed_thickness_mm = t;
      std::vector<JobChange> set{{"board.thickness", t}};
      for (const Side side : {Side::a, Side::b})
        if (side_of(base_, side).assumed_thickness_mm) {
          side_of(s, side).assumed_thickness_mm = t;
          set.push_back({key(side, "thickness"), t});
        }
      add(fmt::format("Make both programs for the thickness as measured, {:.3f} mm", t), Cost::work,
          std::move(s), std::move(set));
    }
  }

  void bed() {
    if (base_.bed.readings && base_.bed.seating != Seating::pressed) {
      Setup s = base_;
      s.bed.seating = Seating::pressed;
      add("Press the board flat onto the bed", Cost::work, std::move(s),
          {{"bed.seating", std::string("pressed")}});
    }
    const double residual = residual_flatness(base_.bed.resurfacing).mm;
    if ((base_.bed.readings || base_.bed.flatness_mm.value_or(0) > residual) &&
        can_be_resurfaced(base_)) {
      std::vector<JobChange> set;
      if (base_.bed.readings)
        for (const char* name : {"bed.readings", "bed.reading_error", "bed.origin"})
          set.push_back({name, JobChange::Remove{}});
      set.push_back({"bed.flatness", residual});
      add(fmt::format("Resurface the spoilboard before side A and cut both sides on it, flat "
                      "within {:.2f} mm",
                      residual),
          Cost::work, with_resurfaced_bed(base_), std::move(set));
      all_.back().only_if_needed = true;
    }
  }

  const Setup& base_;
  std::vector<Alternative> all_;
};

} // namespace

std::string cost_word(Cost cost) {
  switch (cost) {
  case Cost::free:
    return "free";
  case Cost::work:
    return "work";
  case Cost::model:
    return "model";
  }
  return {};
}

std::vector<Alternative> alternatives_of(const Setup& setup, Point2 thinnest,
                                         std::span<const WallSample> samples, bool board_stated) {
  return Builder(setup, touch_alternatives(setup, thinnest, samples, board_stated)).build();
}

} // namespace leastwall
