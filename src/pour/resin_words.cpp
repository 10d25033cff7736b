#include "pour/resin_words.h"

#include "base/maths/angles.h"
#include "base/text/parse_length.h"
#include "base/text/trimmed.h"

#include <cmath>
#include <numbers>

namespace leastwall {
namespace {

std::optional<double> part_of_ratio(std::string_view& text) {
  constexpr double kMost = 1e6;
  text = trimmed(text, " ");
  const std::optional<TakenNumber> n = take_number(text);
  if (!n || n->fraction || !(n->value > 0) || n->value > kMost)
    return std::nullopt;
  text = trimmed(text, " ");
  return n->value;
}

} // namespace

std::optional<std::pair<double, double>> ratio_from_text(std::string_view text) {
  const std::optional<double> a = part_of_ratio(text);
  if (!a || text.empty() || text.front() != ':')
    return std::nullopt;
  text.remove_prefix(1);
  const std::optional<double> b = part_of_ratio(text);
  if (!b || !text.empty())
    return std::nullopt;
  return std::pair(*a, *b);
}

std::optional<double> slope_from_text(std::string_view text) {
  constexpr double kMost_deg = 20, kDegree = std::numbers::pi / 180;
  text = trimmed(text, " ");
  const std::optional<TakenNumber> n = take_number(text);
  if (!n)
    return std::nullopt;
  text = trimmed(text, " ");
  double slope = 0;
  if (text == "mm/m" || text == "mm per m")
    slope = n->value / 1000;
  else if (text == "in/ft" || text == "in per ft")
    slope = n->value / 12;
  else if (text == "%")
    slope = n->value / 100;
  else if ((text == "deg" || text == "\u00b0") && n->value <= kMost_deg)
    slope = maths::tan(n->value * kDegree);
  if (!(slope > 0) || slope > maths::tan(kMost_deg * kDegree) * (1 + 1e-12))
    return std::nullopt;
  return slope;
}

} // namespace leastwall
