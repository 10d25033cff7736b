#include "report/words/shortened_assumptions.h"

#include <algorithm>
#include <string_view>

namespace leastwall {
namespace {

constexpr std::string_view kNotStated = " is not stated; ", kUsed = " is used";

/// "KEY is not stated; WHAT"; a sentence of another kind has no key and is all in `what`.
struct Unstated {
  std::string key, what;
};

Unstated unstated(const std::string& sentence) {
  const std::size_t at = sentence.find(kNotStated);
  const std::size_t blank = sentence.find(' ');
  if (at == 0 || at == sentence.npos || blank < at)
    return {"", sentence};
  return {sentence.substr(0, at), sentence.substr(at + kNotStated.size())};
}

/// The value V of "V is used"; empty for anything else.
std::string value_of(const Unstated& item) {
  return !item.key.empty() && item.what.ends_with(kUsed)
             ? item.what.substr(0, item.what.size() - kUsed.size())
             : "";
}

bool is_zero(std::string_view value) {
  return value == "0" || value.starts_with("0 ");
}

/// What stands behind "side_a." or "side_b."; empty when neither stands in front.
std::string_view of_side(std::string_view key, std::string_view side) {
  return key.starts_with(side) ? key.substr(side.size()) : std::string_view();
}

/// Keys of side A that side B leaves out with the same outcome become one.
std::vector<Unstated> sides_joined(const std::vector<Unstated>& items) {
  std::vector<Unstated> out;
  for (const Unstated& item : items) {
    const std::string_view of_a = of_side(item.key, "side_a."), of_b = of_side(item.key, "side_b.");
    const auto twin = [&](std::string_view side, std::string_view rest) {
      return !rest.empty() && std::ranges::any_of(items, [&](const Unstated& other) {
        return of_side(other.key, side) == rest && other.what == item.what;
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
  std::vector<Unstated> zero, other, rest;
  for (const std::string& sentence : assumptions) {
    const Unstated item = unstated(sentence);
    const std::string value = value_of(item);
    (value.empty() ? rest : is_zero(value) ? zero : other).push_back(item);
  }
  std::vector<std::string> out;
  std::string line;
  for (const Unstated& item : sides_joined(zero))
    line += (line.empty() ? "0 for " : ", ") + item.key;
  if (!line.empty())
    out.push_back(line);
  line.clear();
  for (const Unstated& item : sides_joined(other))
    line += (line.empty() ? "" : ", ") + value_of(item) + " for " + item.key;
  if (!line.empty())
    out.push_back(line);
  for (const Unstated& item : sides_joined(rest))
    out.push_back(item.key.empty() ? item.what : item.key + std::string(kNotStated) + item.what);
  return out;
}

} // namespace leastwall
