#include "pour/components.h"

namespace leastwall {
namespace {

constexpr double kG_per_mm3 = 1e-3; // 1 g/cm3

} // namespace

Amounts components(double mix_mm3, const Resin& resin) {
  Amounts out;
  if (!resin.ratio)
    return out;
  double a = resin.ratio->a, b = resin.ratio->b; // parts by volume
  if (resin.ratio->by_weight) {
    if (!resin.density_a || !resin.density_b)
      return out;
    a /= *resin.density_a;
    b /= *resin.density_b;
  }
  out.a_mm3 = mix_mm3 * (a / (a + b));
  out.b_mm3 = mix_mm3 * (b / (a + b));
  if (resin.density_a)
    out.a_g = *out.a_mm3 * *resin.density_a * kG_per_mm3;
  if (resin.density_b)
    out.b_g = *out.b_mm3 * *resin.density_b * kG_per_mm3;
  return out;
}

std::optional<MixRatio> other_ratio(const Resin& resin) {
  if (!resin.ratio || !resin.density_a || !resin.density_b)
    return std::nullopt;
  const double heavier = *resin.density_a / *resin.density_b,
               given = resin.ratio->a / resin.ratio->b;
  return MixRatio{resin.ratio->by_weight ? given / heavier : given * heavier, 1,
                  !resin.ratio->by_weight};
}

} // namespace leastwall
