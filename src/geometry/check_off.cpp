#include "geometry/check_off.h"

#include "geometry/text_scanner.h"

#include <algorithm>
#include <charconv>
#include <cstdint>
#include <fmt/format.h>

namespace leastwall {
namespace {

constexpr std::string_view kAgain = "the file is damaged or malformed: export the mesh again";

/// Goes to the next word that is no comment; false at the end of the text.
bool to_word(TextScanner& text) {
  for (text.skip_blank_lines(); text.left().starts_with('#'); text.skip_blank_lines())
    text.rest_of_line();
  return !text.left().empty();
}

/// The next word of this line as a whole number from 0.
std::uint64_t whole_number(TextScanner& text, std::string_view of_what) {
  const std::string_view word = text.word_in_line();
  std::uint64_t value = 0;
  const auto [end, error] = std::from_chars(word.data(), word.data() + word.size(), value);
  if (error != std::errc{} || end != word.data() + word.size())
    text.refuse(fmt::format("{} is missing or no whole number", of_what), kAgain);
  return value;
}

} // namespace

void check_off(const MappedFile& file) {
  TextScanner text(file.text(), file.path());
  if (!to_word(text))
    return; // the importer says that nothing is there
  const std::string_view keyword = text.word_in_line();
  if (!keyword.ends_with("OFF"))
    return; // and that this is no OFF
  std::string_view rest = text.left();
  rest.remove_prefix(std::min(rest.find_first_not_of(" \t"), rest.size()));
  if (keyword.find_first_of("4n") != keyword.npos || rest.starts_with("BINARY"))
    text.refuse("OFF in binary or in other than three dimensions is not read",
                "export as binary STL or PLY");
  if (!to_word(text))
    text.refuse("the counts are missing", kAgain);
  const std::uint64_t vertices = whole_number(text, "the count of vertices");
  const std::uint64_t faces = whole_number(text, "the count of faces");
  text.rest_of_line();
  for (std::uint64_t v = 0; v < vertices; ++v) {
    if (!to_word(text))
      text.refuse(fmt::format("the file ends after {} of {} vertices", v, vertices), kAgain);
    for (int i = 0; i < 3; ++i)
      text.number_in_line();
    text.rest_of_line();
  }
  for (std::uint64_t f = 0; f < faces; ++f) {
    if (!to_word(text))
      text.refuse(fmt::format("the file ends after {} of {} faces", f, faces), kAgain);
    const std::uint64_t corners = whole_number(text, "the count of corners");
    if (corners == 0)
      text.refuse("a face has no corners", kAgain);
    for (std::uint64_t i = 0; i < corners; ++i)
      if (const std::uint64_t at = whole_number(text, "a corner of a face"); at >= vertices)
        text.refuse(fmt::format("a face names vertex {} of {}", at, vertices), kAgain);
    text.rest_of_line();
  }
}

} // namespace leastwall
