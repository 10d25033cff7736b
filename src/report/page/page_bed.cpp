#include "report/page/page_bed.h"

#include "bed/bed_map.h"
#include "bed/flatness.h"
#include "report/piece_on_bed.h"

#include <algorithm>
#include <cmath>

namespace leastwall {
namespace {

constexpr int kMaxNodes = 72;             // of the lattice along its longer side
constexpr std::size_t kMaxReadings = 400; // listed and drawn one by one

Json number(double mm) {
  return json_number(std::round(mm * 1e4) / 1e4);
}

Json point(Point2 p) {
  return Json::array({number(p.x), number(p.y)});
}

Json rectangle(const Footprint& f) {
  return Json::array({number(f.low.x), number(f.low.y), number(f.high.x), number(f.high.y)});
}

Json reading(const Vec3& r) {
  return Json::array({number(r.x), number(r.y), number(r.z)});
}

/// Heights row by row, from low y to high y.
Json lattice(const BedMap& bed) {
  Footprint f{{bed.points().front().x, bed.points().front().y}, {}};
  f.high = f.low;
  for (const Vec3& p : bed.points())
    f.add({p.x, p.y});
  const double wide = f.high.x - f.low.x, deep = f.high.y - f.low.y;
  const double step = std::max({wide, deep, 1e-6}) / (kMaxNodes - 1);
  const int nx = std::max(2, static_cast<int>(std::lround(wide / step)) + 1);
  const int ny = std::max(2, static_cast<int>(std::lround(deep / step)) + 1);
  Json values = Json::array();
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i) {
      const auto z = bed.height_mm(f.low.x + wide * i / (nx - 1), f.low.y + deep * j / (ny - 1));
      values.push_back(z ? number(*z) : Json(nullptr));
    }
  return {{"box", rectangle(f)}, {"nx", nx}, {"ny", ny}, {"values", std::move(values)}};
}

} // namespace

Json page_bed(const Setup& setup, const WallMap& skin) {
  Json out = Json::object();
  if (setup.bed.flatness_mm)
    out["flatness"] = number(*setup.bed.flatness_mm);
  if (setup.bed.readings)
    out["count"] = setup.bed.readings->points().size();
  if (!has_bed_map(setup))
    return out;
  const BedMap& bed = *setup.bed.readings;
  out["readings"] = Json::array();
  if (bed.points().size() <= kMaxReadings)
    for (const Vec3& r : bed.points())
      out["readings"].push_back(reading(r));
  out["lowest"] = reading(bed.lowest());
  out["highest"] = reading(bed.highest());
  out["zone"] = number(judge_flatness(bed.points()).minimum_zone.normal_mm);
  out["heights"] = lattice(bed);
  const PieceOnBed piece = piece_on_bed(setup, skin);
  out["side_a"] = rectangle(piece.side_a);
  out["side_b"] = rectangle(piece.side_b);
  out["touch_a"] = point(piece.touch_a);
  out["touch_b"] = point(piece.touch_b);
  out["flip_at"] = number(piece.line_at_mm);
  return out;
}

} // namespace leastwall
