#include "report/words/number_text.h"

#include "base/maths/exp_log.h"
#include "base/units.h"
#include "budget/effects/verdict.h"

#include <cmath>
#include <fmt/format.h>

namespace leastwall {

std::string fixed_text(double value, int decimals) {
  if (!std::isfinite(value))
    return "-";
  std::string text = fmt::format("{:.{}f}", value, decimals);
  if (text.front() == '-' && text.find_first_of("123456789") == std::string::npos)
    text.erase(0, 1);
  return text;
}

namespace {

/// Both in steps of the last decimal.
std::string under_limit(double wall, double limit, bool is_under, int decimals) {
  const double steps = maths::whole_power(10, decimals);
  if (is_under && std::round(wall * steps) >= std::round(limit * steps))
    return fixed_text((std::round(limit * steps) - 1) / steps, decimals);
  return fixed_text(wall, decimals);
}

} // namespace

std::string wall_text(double wall_mm, double limit_mm) {
  return under_limit(wall_mm, limit_mm, wall_mm < limit_mm - kLimitTolerance_mm, 3);
}

std::string wall_text_inch(double wall_mm, double limit_mm) {
  return under_limit(wall_mm / kMillimetresPerInch, limit_mm / kMillimetresPerInch,
                     wall_mm < limit_mm - kLimitTolerance_mm, 4);
}

std::string inch_text(double value_mm) {
  return fixed_text(value_mm / kMillimetresPerInch, 4);
}

std::string place_text(Vec3 at) {
  return fmt::format("x {} y {} z {}", fixed_text(at.x, 1), fixed_text(at.y, 1),
                     fixed_text(at.z, 1));
}

std::string place_text_inch(Vec3 at) {
  const double inch = kMillimetresPerInch;
  return fmt::format("x {} y {} z {} in", fixed_text(at.x / inch, 3), fixed_text(at.y / inch, 3),
                     fixed_text(at.z / inch, 3));
}

std::string plan_text(Point2 at, bool inch) {
  const auto length = [inch](double mm) {
    return inch ? fixed_text(mm / kMillimetresPerInch, 3) : fixed_text(mm, 1);
  };
  return fmt::format("x {} y {}{}", length(at.x), length(at.y), inch ? " in" : "");
}

std::string area_text(double area_mm2) {
  if (area_mm2 > 0 && area_mm2 < 0.05)
    return "under 0.1";
  return fixed_text(area_mm2, 1);
}

std::string odds_text(double fraction) {
  if (!(fraction > 0))
    return "none";
  if (fraction >= 1)
    return "every time";
  if (fraction >= 0.5) {
    const double in_hundred = std::round(fraction * 100);
    return fmt::format("{} in 100", in_hundred >= 100 ? ">99" : fixed_text(in_hundred, 0));
  }
  const double one_in = 1 / fraction;
  return "1 in " + fixed_text(one_in, one_in < 10 ? 1 : 0);
}

} // namespace leastwall
