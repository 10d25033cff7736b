#include "report/draw/round_length.h"

#include "base/units.h"

namespace leastwall {

double round_length(double most) {
  double power = 1;
  while (power < 1e300 && power * 10 <= most * (1 + 1e-12))
    power *= 10;
  while (power > most * (1 + 1e-12))
    power /= 10;
  for (const double step : {10.0, 5.0, 2.0})
    if (step * power <= most * (1 + 1e-12))
      return step * power;
  return power;
}

double round_length(double max_mm, bool inch) {
  const double unit = millimetres_per(inch ? LengthUnit::inch : LengthUnit::mm);
  return round_length(max_mm / unit) * unit;
}

} // namespace leastwall
