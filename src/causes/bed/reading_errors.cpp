#include "causes/bed/reading_errors.h"

#include "base/assumption.h"
#include "bed/bed_map.h"
#include "causes/model/cause_terms.h"
#include "causes/model/land.h"
#include "setup/place.h"

#include <array>
#include <cmath>
#include <functional>
#include <memory>
#include <utility>

namespace leastwall {
namespace {

class ReadingErrors : public ErrorField {
 public:
  /// A cut, and where its datum is touched on the bed.
  struct Touched {
    Side side = Side::a;
    double height = 1; ///< CutView::height
    Point2 touch;
  };

  ReadingErrors(const Setup& setup, const std::array<Touched, 2>& cuts)
      : bed_(setup.bed.readings), cuts_(cuts), land_(land_of(setup)) {
    places_.flip = setup.flip;
    places_.bed.part_origin_mm = setup.bed.part_origin_mm;
    for (const Touched& cut : cuts) {
      add_touch(cut, at_touches_);
      if (cut.side == Side::b)
        add_touch(cut, at_touches_of_b_);
    }
    join_shares(at_touches_, 0);
    join_shares(at_touches_of_b_, 0);
  }

  std::uint32_t count() const override { return static_cast<std::uint32_t>(bed_->points().size()); }

  void shares(const WallSample& p, std::vector<ErrorShare>& out) const override {
    const std::size_t begin = out.size();
    const double v = vertical(p);
    if (v == 0)
      return;
    const bool land = land_(p); // which side A does not cut
    const std::vector<ErrorShare>& at_touches = land ? at_touches_of_b_ : at_touches_;
    out.insert(out.end(), at_touches.begin(), at_touches.end());
    for (const Touched& cut : cuts_)
      if (!land || cut.side == Side::b)
        add_weights(bed_place(places_, cut.side, {p.at.x, p.at.y}), bed_->highest_reading(),
                    -cut.height, out);
    join_shares(out, begin);
    for (std::size_t i = begin; i < out.size(); ++i)
      out[i].c *= v;
  }

 private:
  void add_touch(const Touched& cut, std::vector<ErrorShare>& out) const {
    add_weights(cut.touch, bed_->lowest_reading(), cut.height, out);
  }
  void add_weights(Point2 at, std::uint32_t beyond, double sign,
                   std::vector<ErrorShare>& out) const {
    BedMap::Weights weights;
    const std::size_t n = bed_->weights_at(at.x, at.y, weights);
    for (std::size_t i = 0; i < n; ++i)
      out.push_back({weights[i].reading, sign * weights[i].weight});
    if (n == 0)
      out.push_back({beyond, sign});
  }

  std::shared_ptr<const BedMap> bed_;
  std::array<Touched, 2> cuts_;
  Setup places_; // only flip and part origin are kept
  std::vector<ErrorShare> at_touches_, at_touches_of_b_;
  std::function<bool(const WallSample&)> land_;
};

} // namespace

void add_reading_errors(const Setup& setup, std::vector<Cause>& causes,
                        std::vector<Assumption>& assumptions) {
  if (!setup.bed.readings || setup.bed.reading_error.size_mm == 0)
    return;
  if (same_side(setup) && same_datum(setup))
    return; // the same readings, taken twice with opposite signs
  std::array<ReadingErrors::Touched, 2> cuts;
  for (const CutView& cut : cuts_of(setup))
    cuts[cut.outer ? 1 : 0] = {
        cut.id.side, cut.height,
        bed_place(setup, cut.id.side, touch_point_of(setup, cut.how, cut.id.side, assumptions))};
  Cause cause;
  cause.id = {CauseKind::bed_reading};
  cause.setting = "bed.reading_error";
  cause.distribution = distribution_of(setup.bed.reading_error.knowledge);
  cause.size = setup.bed.reading_error.size_mm;
  set_field(cause, std::make_shared<const ReadingErrors>(setup, cuts));
  // Of each cut the weights at its touch point and those at the place, 1 together either time.
  cause.bound = at_most(2 * (std::abs(cuts[0].height) + std::abs(cuts[1].height)));
  causes.push_back(std::move(cause));
}

} // namespace leastwall
