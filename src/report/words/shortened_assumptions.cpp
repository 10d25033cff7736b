#include "report/words/shortened_assumptions.h"
#include "base/assumption.h"

#include <algorithm>
#include <string_view>

namespace leastwall {
namespace {

bool is_zero(std::string_view value) {
  return value == "0" || value.starts_with("0 ");
}

/// What stands behind "side_a." or "side_b."; empty when neither stands in front.
std::string_view of_side(std::string_view key, std::string_view side) {
  return key.starts_with(side) ? key.substr(side.size()) : std::string_view();
}

/// Keys of side A that side B leaves out with the same outcome become one.
std::vector<Assumption> sides_joined(const std::vector<Assumption>& items) {
  std::vector<Assumption> out;
  for (const Assumption& item : items) {
    const std::string_view of_a = of_side(item.key, "side_a."), of_b = of_side(item.key, "side_b.");
    const auto twin = [&](std::string_view side, std::string_view rest) {
      return !rest.empty() && std::ranges::any_of(items, [&](const Assumption& other) {
        return of_side(other.key, side) == rest && other.text == item.text;
      });
    };
    if (twin("side_a.", of_b))
      continue; // told with side A
    out.push_back(item);
    if (twin("side_b.", of_a))
      out.back().key = "side_a/b." + std::string(of_a);
  }
  return out;
}

} // namespace

std::vector<std::string> shortened_assumptions(const std::vector<Assumption>& assumptions) {
  std::vector<Assumption> zero, other, rest;
  for (const Assumption& item : assumptions)
    (item.value.empty() ? rest : is_zero(item.value) ? zero : other).push_back(item);
  std::vector<std::string> out;
  std::string line;
  for (const Assumption& item : sides_joined(zero))
    line += (line.empty() ? "0 for " : ", ") + item.key;
  if (!line.empty())
    out.push_back(line);
  line.clear();
  for (const Assumption& item : sides_joined(other))
    line += (line.empty() ? "" : ", ") + item.value + " for " + item.key;
  if (!line.empty())
    out.push_back(line);
  for (const Assumption& item : sides_joined(rest))
    out.push_back(item.key.empty() ? item.text : item.key + ": " + item.text);
  return out;
}

std::vector<Assumption> telling_assumptions(const std::vector<Assumption>& assumptions) {
  std::vector<Assumption> out;
  for (const Assumption& item : assumptions)
    if (!item.usual && !item.value.starts_with('"') && item.key != "trials" && item.key != "seed" &&
        item.key != "board.pocket_face_z")
      out.push_back(item);
  return out;
}

} // namespace leastwall
