#include "report/verdict_text.h"

#include "report/number_text.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace leastwall {

std::string verdict_banner(Verdict verdict) {
  switch (verdict) {
  case Verdict::safe:
    return "EVERY WALL HOLDS";
  case Verdict::at_risk:
    return "AT RISK";
  case Verdict::thin:
    return "TOO THIN";
  case Verdict::cut_through:
    return "CUT THROUGH";
  }
  return "";
}

std::string wall_words(double wall_mm, double limit_mm, bool inch) {
  const double shown = std::abs(wall_mm);
  std::string text = (wall_mm > 0 ? wall_text(wall_mm, limit_mm) : fixed_text(shown, 3)) + " mm";
  if (inch)
    text += fmt::format(" ({} in)", inch_text(shown));
  return wall_mm > 0 ? text : "hole, " + text + " too deep";
}

std::string cost_words(const std::string& cost) {
  if (cost == "free")
    return "costs nothing";
  if (cost == "work")
    return "some work";
  if (cost == "model")
    return "a change of the model";
  return cost;
}

std::string verdict_sentence(const CheckReport& report, bool inch) {
  const auto length = [&](double mm) {
    const std::string text = wall_text(mm, report.limit_mm) + " mm";
    return inch ? fmt::format("{} ({} in)", text, inch_text(mm)) : text;
  };
  const CheckReport::LeastWall& least = report.least_wall;
  const std::string where = place_text(least.at), limit = length(report.limit_mm);
  switch (report.verdict) {
  case Verdict::safe:
    return fmt::format("Every wall holds: least {} at {}, limit {}.", length(least.expected_mm),
                       where, limit);
  case Verdict::at_risk:
    return fmt::format(
        "The walls hold if all goes as expected (least {} at {}, limit {}), but "
        "errors may {}.",
        length(least.expected_mm), where, limit,
        least.worst_mm > 0
            ? fmt::format("leave them too thin: {} at worst", length(least.worst_mm))
            : fmt::format("cut through: {} too deep at worst", length(-least.worst_mm)));
  case Verdict::thin:
    return fmt::format("Some walls are too thin: least {} at {}, limit {}.",
                       length(least.expected_mm), where, limit);
  case Verdict::cut_through:
    return fmt::format("The two cuts meet: {} too deep at {}, so there is a hole; limit {}.",
                       length(std::max(0.0, -least.expected_mm)), where, limit);
  }
  return "";
}

} // namespace leastwall
