#include "report/shortened_assumptions.h"

#include <algorithm>
#include <optional>
#include <string_view>

namespace leastwall {
namespace {

struct Unstated {
  std::string key, value;
};

std::optional<Unstated> unstated(std::string_view sentence) {
  constexpr std::string_view kMiddle = " is not stated; ", kEnd = " is used";
  const std::size_t at = sentence.find(kMiddle);
  if (at == sentence.npos || !sentence.ends_with(kEnd))
    return std::nullopt;
  const std::string_view key = sentence.substr(0, at);
  sentence.remove_prefix(at + kMiddle.size());
  if (key.find(' ') != key.npos || sentence.size() <= kEnd.size())
    return std::nullopt;
  sentence.remove_suffix(kEnd.size());
  return Unstated{std::string(key), std::string(sentence)};
}

bool is_zero(std::string_view value) {
  return value == "0" || value.starts_with("0 ");
}

/// What stands behind "side_a." or "side_b."; empty when neither stands in front.
std::string_view of_side(std::string_view key, std::string_view side) {
  return key.starts_with(side) ? key.substr(side.size()) : std::string_view();
}

/// Keys of side A that side B leaves out with the same value become one.
std::vector<Unstated> sides_joined(const std::vector<Unstated>& items) {
  std::vector<Unstated> out;
  for (const Unstated& item : items) {
    const std::string_view of_a = of_side(item.key, "side_a."), of_b = of_side(item.key, "side_b.");
    const auto twin = [&](std::string_view side, std::string_view rest) {
      return !rest.empty() && std::ranges::any_of(items, [&](const Unstated& other) {
        return of_side(other.key, side) == rest && other.value == item.value;
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

std::vector<std::string> shortened_assumptions(const std::vector<std::string>& assumptions) {
  std::vector<Unstated> zero, other;
  std::vector<std::string> rest;
  for (const std::string& sentence : assumptions) {
    if (auto item = unstated(sentence))
      (is_zero(item->value) ? zero : other).push_back(*item);
    else
      rest.push_back(sentence);
  }
  std::vector<std::string> out;
  std::string line;
  for (const Unstated& item : sides_joined(zero))
    line += (line.empty() ? "0 for " : ", ") + item.key;
  if (!line.empty())
    out.push_back(line);
  line.clear();
  for (const Unstated& item : sides_joined(other))
    line += (line.empty() ? "" : ", ") + item.value + " for " + item.key;
  if (!line.empty())
    out.push_back(line);
  out.insert(out.end(), rest.begin(), rest.end());
  return out;
}

} // namespace leastwall
