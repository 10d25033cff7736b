#include "report/words/amount_text.h"

#include "report/words/number_text.h"

#include <cmath>
#include <fmt/format.h>

namespace leastwall {
namespace {

constexpr double kMm3_per_ml = 1000;
// NIST Handbook 44, appendix C: 231 cubic inches are 128 US fluid ounces; the ounce.
constexpr double kMl_per_floz = 29.5735295625, kG_per_oz = 28.349523125;

std::string number(double value) {
  const bool small = std::abs(value) < 9.995;
  return value > 0 && value < 0.005 ? "under 0.01" : fixed_text(value, small ? 2 : 1);
}

} // namespace

std::string ml_number(double mm3) {
  return number(mm3 / kMm3_per_ml);
}

std::string gram_number(double g) {
  return number(g);
}

std::string ml_number(const std::optional<double>& mm3) {
  return mm3 ? ml_number(*mm3) : "";
}

std::string gram_number(const std::optional<double>& g) {
  return g ? gram_number(*g) : "";
}

std::string volume_text(double mm3, bool inch) {
  const std::string text = ml_number(mm3) + " ml";
  return inch ? fmt::format("{} fl oz ({})", fixed_text(mm3 / kMm3_per_ml / kMl_per_floz, 2), text)
              : text;
}

std::string weight_text(double g, bool inch) {
  const std::string text = gram_number(g) + " g";
  return inch ? fmt::format("{} oz ({})", fixed_text(g / kG_per_oz, 2), text) : text;
}

} // namespace leastwall
