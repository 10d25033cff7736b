#include "base/text/shorten_middle.h"

#include "base/text/code_point.h"
#include "base/text/wrap_text.h"

#include <algorithm>
#include <cstddef>
#include <optional>
#include <vector>

namespace leastwall {
namespace {

constexpr std::string_view kGap = "...";

/// First and last letters of `text`, `columns` wide with the gap; empty where the gap is wider.
std::string first_and_last(std::string_view text, int columns) {
  const int room = columns - static_cast<int>(kGap.size());
  if (room < 0)
    return "";
  std::vector<std::string_view> letters;
  for (std::string_view rest = text; !rest.empty();) {
    letters.push_back(first_code_point(rest).bytes);
    rest.remove_prefix(letters.back().size());
  }
  std::string head, tail;
  int used = 0;
  for (const std::string_view letter : letters) {
    if (used + text_columns(letter) > room / 2)
      break;
    head += letter;
    used += text_columns(letter);
  }
  for (auto letter = letters.rbegin();
       letter != letters.rend() && used + text_columns(*letter) <= room; ++letter) {
    tail.insert(0, *letter);
    used += text_columns(*letter);
  }
  return head.append(kGap).append(tail);
}

std::vector<std::string_view> words_of(std::string_view text) {
  std::vector<std::string_view> words;
  for (std::size_t begin = text.find_first_not_of(' '); begin != std::string_view::npos;) {
    const std::size_t end = std::min(text.find(' ', begin), text.size());
    words.push_back(text.substr(begin, end - begin));
    begin = text.find_first_not_of(' ', end);
  }
  return words;
}

/// Whole words of both ends, of the last end alone where it would else be a single one; absent
/// where they have no room.
std::optional<std::string> words_of_both_ends(std::string_view text, const TextFits& fits) {
  const std::vector<std::string_view> words = words_of(text);
  const auto kept = [&](std::size_t head, std::size_t tail) {
    std::string out;
    for (std::size_t i = 0; i < head; ++i)
      out.append(words[i]).append(" ");
    out += kGap;
    for (std::size_t i = words.size() - tail; i < words.size(); ++i)
      out.append(" ").append(words[i]);
    return out;
  };
  const auto has_room = [&](std::size_t head, std::size_t tail) {
    return head + tail < words.size() && fits(kept(head, tail));
  };
  std::size_t head = 1, tail = 1;
  const bool both = has_room(head, tail);
  if ((!both || !has_room(1, 2)) && has_room(0, 2))
    head = 0;
  else if (!both)
    return std::nullopt;
  for (bool grew = true; grew;) {
    grew = has_room(head, tail + 1);
    tail += grew ? 1 : 0;
    if (head > 0 && has_room(head + 1, tail)) {
      ++head;
      grew = true;
    }
  }
  return kept(head, tail);
}

} // namespace

std::string shorten_middle(std::string_view text, const TextFits& fits) {
  if (std::string whole(text); fits(whole))
    return whole;
  constexpr int kFewest = static_cast<int>(kGap.size()) + 2;
  int columns = std::max(kFewest, text_columns(text) - 1);
  std::string letters = first_and_last(text, columns);
  while (columns > kFewest && !fits(letters))
    letters = first_and_last(text, --columns);
  const std::optional<std::string> words = words_of_both_ends(text, fits);
  return words && 2 * text_columns(*words) > text_columns(letters) ? *words : letters;
}

std::string shorten_before(std::string_view text, std::string_view kept, const TextFits& fits) {
  if (!kept.empty() && text.ends_with(kept)) {
    const std::string before =
        shorten_middle(text.substr(0, text.size() - kept.size()), [&](const std::string& shorter) {
          return fits(shorter + std::string(kept));
        });
    if (std::string whole = before + std::string(kept); fits(whole))
      return whole;
  }
  return shorten_middle(text, fits);
}

std::string shorten_middle(std::string_view text, int columns) {
  const TextFits fits = [columns](const std::string& shorter) {
    return text_columns(shorter) <= columns;
  };
  const std::string out = shorten_middle(text, fits);
  return fits(out) ? out : first_and_last(text, columns);
}

} // namespace leastwall
