#include "setup/iso286.h"

#include "base/errors.h"

#include <array>
#include <cmath>
#include <fmt/format.h>
#include <limits>

namespace leastwall {
namespace {

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();
constexpr std::size_t kBands = 3;
constexpr std::array<double, kBands + 1> kBand_mm = {3, 6, 10, 18};

struct Row {
  std::string_view name;
  std::array<double, kBands> upper_um, lower_um;
};

// ISO 286-2, secondary tables. h8 above 10 mm: same width as H8 by definition of the grade.
constexpr std::array<Row, 7> kRows = {{
    {"h6", {0, 0, 0}, {-8, -9, -11}},
    {"m6", {12, 15, 18}, {4, 6, 7}},
    {"h8", {0, 0, 0}, {-18, -22, -27}},
    {"H7", {12, 15, 18}, {0, 0, 0}},
    {"H8", {18, 22, 27}, {0, 0, 0}},
    {"H9", {30, 36, kNone}, {0, 0, 0}},
    {"H11", {75, 90, kNone}, {0, 0, 0}},
}};

bool is_hole(std::string_view c) {
  return !c.empty() && c[0] >= 'A' && c[0] <= 'Z';
}

} // namespace

ToleranceLimits tolerance_limits(std::string_view tolerance_class, double nominal_mm) {
  for (const Row& row : kRows) {
    if (row.name != tolerance_class)
      continue;
    for (std::size_t b = 0; b < kBands; ++b)
      if (nominal_mm > kBand_mm[b] && nominal_mm <= kBand_mm[b + 1] && !std::isnan(row.upper_um[b]))
        return {row.lower_um[b] / 1000, row.upper_um[b] / 1000};
    throw InputError(fmt::format("fit: no limits of {} are known for a diameter of {} mm; state "
                                 "the clearance in mm instead",
                                 tolerance_class, nominal_mm));
  }
  throw InputError(fmt::format("fit: unknown tolerance class \"{}\"; known are the holes H7 H8 H9 "
                               "H11 and the pins h6 m6 h8; or state the clearance in mm",
                               tolerance_class));
}

FitClearance fit_clearance(std::string_view fit, double nominal_mm) {
  const std::size_t slash = fit.find('/');
  const std::string_view hole = fit.substr(0, slash);
  const std::string_view pin = slash == fit.npos ? "" : fit.substr(slash + 1);
  if (!is_hole(hole) || pin.empty() || is_hole(pin))
    throw InputError(fmt::format("fit: \"{}\" is not written as hole/pin, such as \"H7/h6\"", fit));
  const ToleranceLimits h = tolerance_limits(hole, nominal_mm);
  const ToleranceLimits p = tolerance_limits(pin, nominal_mm);
  return {h.lower_mm - p.upper_mm, h.upper_mm - p.lower_mm};
}

} // namespace leastwall
