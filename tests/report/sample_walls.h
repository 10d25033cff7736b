// Small made-up walls and reports for the tests of the writers.
#pragma once

#include "report/check_report.h"
#include "wall/sampling/wall_map.h"

#include <functional>
#include <vector>

namespace leastwall::sample {

/// nx by ny squares, each cut in two cells, over [x0, x1] x [y0, y1]; height and wall by function.
struct Plate {
  double x0 = 0, x1 = 100, y0 = 0, y1 = 60;
  int nx = 50, ny = 30;
  std::function<double(double, double)> z = [](double, double) { return 0.0; };
  std::function<double(double, double)> wall = [](double, double) { return 1.0; };
};

inline WallMap wall_map(const Plate& plate) {
  WallMap map;
  for (int j = 0; j <= plate.ny; ++j)
    for (int i = 0; i <= plate.nx; ++i) {
      const double x = plate.x0 + (plate.x1 - plate.x0) * i / plate.nx;
      const double y = plate.y0 + (plate.y1 - plate.y0) * j / plate.ny;
      map.samples.push_back({{x, y, plate.z(x, y)}, {0, 0, -1}, plate.wall(x, y)});
    }
  const auto id = [&](int i, int j) { return static_cast<std::uint32_t>(j * (plate.nx + 1) + i); };
  for (int j = 0; j < plate.ny; ++j)
    for (int i = 0; i < plate.nx; ++i) {
      map.cells.push_back({id(i, j), id(i + 1, j), id(i + 1, j + 1)});
      map.cells.push_back({id(i, j), id(i + 1, j + 1), id(i, j + 1)});
    }
  return map;
}

inline std::vector<double> walls(const WallMap& map, double shift_mm = 0) {
  std::vector<double> out;
  for (const WallSample& s : map.samples)
    out.push_back(s.wall_mm + shift_mm);
  return out;
}

/// Everything a report can hold.
inline CheckReport full_report() {
  CheckReport r;
  r.title = "gourd lantern, left half";
  r.pocket.file = "gourd-pocket.stl";
  r.skin.file = "gourd-skin.stl";
  r.wall.verdict = Verdict::thin;
  r.basis.text = "20000 trials of the whole piece; accepted chance 1 in 20";
  r.wall.limit_mm = 0.8;
  r.wall.least_wall = {0.712, 0.652, 0.412, 0.901, {12.34, -4.01, -18.25}, 0.51, 0.79};
  r.wall.area_under_limit_mm2 = 123.456;
  r.wall.area_at_risk_mm2 = 456.789;
  r.skin_area_mm2 = 20123.4;
  r.left_out_area_mm2 = 812.5;
  r.top_z_mm = 0;
  r.box.add(Vec3{-60, -90, -40});
  r.box.add(Vec3{60, 90, 0});
  r.pocket.triangles = 120000;
  r.skin.triangles = 240000;
  r.wall.regions = {
      {0.652, 0.412, 300.5, 100.25, {12.34, -4.01, -18.25}, CauseId{CauseKind::touch_off}},
      {0.790, 0.550, 156.289, 23.206, {-20.5, 30.25, -12.5}, {}}};
  r.wall.chance = ChanceRow{0.97, 0.0005, 0.96, 0.98, 0.0002, 0.0009, 20000};
  r.wall.causes = {{.id = {CauseKind::touch_off, Side::b},
                    .size = 0.05,
                    .unit = "mm",
                    .at_thinnest_mm = 0.05,
                    .share = 0.6,
                    .largest_allowed_mm = 0.021},
                   {.id = {CauseKind::bed_flatness},
                    .size = 0.15,
                    .unit = "mm",
                    .at_thinnest_mm = 0.15,
                    .share = 0.4}};
  r.advice = {{"Zero side B on top of the board", 0.3, Verdict::safe, "free"},
              {"Thicken the model by 0.200 mm", 0.2, Verdict::at_risk, "model"}};
  r.warnings = {{"open-mesh", "The skin is an open sheet; what lies above the pocket floor counts "
                              "as air. Close it if that is not meant."}};
  r.assumptions = {{"Board thickness 20.000 mm, as the programs assume"}};
  r.not_checked = {"The bit may flex more than the runout given"};
  return r;
}

/// The least a report can hold: every optional absent, every list empty.
inline CheckReport bare_report() {
  CheckReport r;
  r.wall.limit_mm = 0.8;
  r.wall.least_wall.design_mm = r.wall.least_wall.expected_mm = r.wall.least_wall.worst_mm = 1.0;
  return r;
}

} // namespace leastwall::sample
