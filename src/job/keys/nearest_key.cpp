#include "job/keys/nearest_key.h"

#include "base/text/lower_case.h"

#include <algorithm>
#include <string>
#include <vector>

namespace leastwall {

std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> before(b.size() + 1), last(b.size() + 1), row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j)
    last[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t change = a[i - 1] == b[j - 1] ? 0 : 1;
      row[j] = std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + change});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
        row[j] = std::min(row[j], before[j - 2] + 1);
    }
    std::swap(before, last);
    std::swap(last, row);
  }
  return last[b.size()];
}

std::string_view nearest(std::string_view word, std::span<const std::string_view> words) {
  constexpr std::size_t kLongest = 64; // longer ones are no misspelt key
  if (word.size() > kLongest)
    return {};
  std::string_view best;
  std::size_t least = std::max<std::size_t>(2, word.size() / 3) + 1;
  for (const std::string_view candidate : words) {
    const std::size_t d = edit_distance(lower_case(word), lower_case(candidate));
    if (d < least && d < std::max(word.size(), candidate.size())) {
      least = d;
      best = candidate;
    }
  }
  return best;
}

} // namespace leastwall
