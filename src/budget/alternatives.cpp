#include "budget/alternatives.h"

#include "budget/resurface.h"
#include "budget/touch_place.h"
#include "setup/cause_terms.h"

#include <algorithm>
#include <fmt/format.h>

namespace leastwall {
namespace {

constexpr double kMeasured = 0.02; // a caliper reading of a board, common practice
constexpr double kMoreLeft = 0.1;  // extra allowance for finishing

std::string zero_words(ZeroFrom zero) {
  return zero == ZeroFrom::top ? "on top of the board" : "on the bed";
}

class Builder {
 public:
  Builder(const Setup& setup, Point2 thinnest, std::span<const WallSample> samples)
      : base_(setup), thinnest_(thinnest), samples_(samples) {}

  std::vector<Alternative> build() {
    zero_pairs();
    touch_points();
    flip_line();
    touch_plate();
    touch_again();
    roughing();
    touch_off();
    dowels();
    board();
    bed();
    return std::move(all_);
  }

 private:
  Setup& add(std::string change, Cost cost) {
    all_.push_back({std::move(change), cost, base_, false});
    return all_.back().setup;
  }

  void zero_pairs() {
    for (const ZeroFrom a : {ZeroFrom::top, ZeroFrom::bed})
      for (const ZeroFrom b : {ZeroFrom::top, ZeroFrom::bed}) {
        const bool da = a != base_.side_a.zero, db = b != base_.side_b.zero;
        if (!da && !db)
          continue;
        std::string change =
            da && db && a == b ? "Zero both sides " + zero_words(a)
            : da && db ? fmt::format("Zero side A {} and side B {}", zero_words(a), zero_words(b))
            : da       ? "Zero side A " + zero_words(a)
                       : "Zero side B " + zero_words(b);
        Setup& s = add(std::move(change), Cost::free);
        s.side_a.zero = a;
        s.side_b.zero = b;
      }
  }

  void touch_points() {
    const Point2 middle = base_.board.footprint->middle();
    const Point2 a = base_.side_a.touch_point.value_or(middle);
    const Point2 b = base_.side_b.touch_point.value_or(middle);
    const auto good = [&](Side side, Point2 at) {
      return touch_place(base_, side, at, samples_) == TouchPlace::good;
    };
    const auto both = [&](std::string change, Point2 at) {
      if ((a == at && b == at) || !good(Side::a, at) || !good(Side::b, at))
        return;
      Setup& s = add(std::move(change), Cost::free);
      s.side_a.touch_point = s.side_b.touch_point = at;
    };
    both(fmt::format("Touch off both sides at the thinnest place, x {:.1f} y {:.1f}", thinnest_.x,
                     thinnest_.y),
         thinnest_);
    both("Touch off both sides in the middle of the part", middle);
    if (!(a == b) && good(Side::b, a))
      add("Touch off side B at the same point of the part as side A", Cost::free)
          .side_b.touch_point = a;
    if (!(a == b) && good(Side::a, b))
      add("Touch off side A at the same point of the part as side B", Cost::free)
          .side_a.touch_point = b;
  }

  void flip_line() {
    const bool along_y = base_.flip.line == FlipLine::along_y;
    Setup& s = add(along_y ? "Flip about a line along x instead of y"
                           : "Flip about a line along y instead of x",
                   Cost::free);
    const Point2 middle = s.board.footprint->middle();
    s.flip.line = along_y ? FlipLine::along_x : FlipLine::along_y;
    s.flip.at_mm = along_y ? middle.y : middle.x;
    if (s.flip.dowels)
      s.flip.dowels->middle.reset();
  }

  void touch_plate() {
    if (base_.side_a.plate_error_mm == 0 && base_.side_b.plate_error_mm == 0)
      return;
    Setup& s = add("Enter the real thickness of the touch plate in the machine", Cost::free);
    s.side_a.plate_error_mm = s.side_b.plate_error_mm = 0;
  }

  void touch_again() {
    if (base_.side_a.bit.zero != BitZero::tool_setter &&
        base_.side_b.bit.zero != BitZero::tool_setter)
      return;
    Setup& s =
        add("Touch every bit on the datum again instead of using the tool setter", Cost::free);
    for (SideSetup* side : {&s.side_a, &s.side_b}) {
      side->bit.zero = BitZero::retouched;
      if (side->roughing && !side->roughing->touch_off)
        side->roughing->touch_off = side->touch_off;
    }
  }

  void roughing() {
    for (const Side side : {Side::a, Side::b}) {
      if (!side_of(base_, side).roughing)
        continue;
      Setup& s = add(fmt::format("Leave {:.2f} mm for finishing on {}",
                                 side_of(base_, side).roughing->allowance_mm + kMoreLeft,
                                 side_words(side)),
                     Cost::free);
      (side == Side::a ? s.side_a : s.side_b).roughing->allowance_mm += kMoreLeft;
    }
  }

  void touch_off() {
    const double most = std::max(base_.side_a.touch_off.size_mm, base_.side_b.touch_off.size_mm);
    if (most == 0)
      return;
    Setup& s = add(fmt::format("Touch off twice as well, within {:.3f} mm", most / 2), Cost::work);
    s.side_a.touch_off.size_mm /= 2;
    s.side_b.touch_off.size_mm /= 2;
  }

  void dowels() {
    if (!base_.flip.dowels)
      return;
    const double most =
        std::max(base_.flip.dowels->clearance_1_mm, base_.flip.dowels->clearance_2_mm);
    if (most == 0)
      return;
    Setup& s =
        add(fmt::format("Fit the dowels with half the play, {:.3f} mm", most / 2), Cost::work);
    s.flip.dowels->clearance_1_mm /= 2;
    s.flip.dowels->clearance_2_mm /= 2;
  }

  void board() {
    const Board& b = base_.board;
    if (b.thickness_error.size_mm > kMeasured || b.variation_mm > kMeasured) {
      Setup& s = add(fmt::format("Measure the board at the touch points and the thin places to "
                                 "{:.2f} mm and make the programs for it",
                                 kMeasured),
                     Cost::work);
      if (s.board.thickness_error.size_mm > kMeasured)
        s.board.thickness_error = {kMeasured, Knowledge::limits};
      s.board.variation_mm = std::min(s.board.variation_mm, kMeasured);
    }
    if (b.measured_thickness_mm) {
      const double t = *b.measured_thickness_mm;
      Setup s = base_;
      s.board.assumed_thickness_mm = t;
      s.side_a.assumed_thickness_mm.reset();
      s.side_b.assumed_thickness_mm.reset();
      const bool same = b.assumed_thickness_mm.value_or(t) == t &&
                        base_.side_a.assumed_thickness_mm.value_or(t) == t &&
                        base_.side_b.assumed_thickness_mm.value_or(t) == t;
      if (!same)
        all_.push_back(
            {fmt::format("Make both programs for the thickness as measured, {:.3f} mm", t),
             Cost::work, s, false});
    }
  }

  void bed() {
    if (base_.bed.readings && base_.bed.seating != Seating::pressed)
      add("Press the board flat onto the bed", Cost::work).bed.seating = Seating::pressed;
    const double residual = residual_flatness(base_.bed.resurfacing).mm;
    if ((base_.bed.readings || base_.bed.flatness_mm.value_or(0) > residual) &&
        can_be_resurfaced(base_)) {
      add(fmt::format("Resurface the spoilboard before side A and cut both sides on it, flat "
                      "within {:.2f} mm",
                      residual),
          Cost::work) = with_resurfaced_bed(base_);
      all_.back().only_if_needed = true;
    }
  }

  const Setup& base_;
  Point2 thinnest_;
  std::span<const WallSample> samples_;
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
                                         std::span<const WallSample> samples) {
  return Builder(setup, thinnest, samples).build();
}

} // namespace leastwall
