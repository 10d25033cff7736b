#include "mesh/formats/read_off.h"

#include "mesh/polygon_soup.h"
#include "mesh/syntax/mesh_text.h"
#include "mesh/syntax/text_scanner.h"

#include <algorithm>
#include <charconv>
#include <fmt/format.h>

namespace leastwall {
namespace {

constexpr std::string_view kAgain = "the file is damaged or malformed: export the mesh again";

class OffReader {
 public:
  OffReader(const MappedFile& file, const RunContext& run)
      : bytes_(mesh_text(file, "OFF")), text_(bytes_, file.path()), run_(run) {}

  PolygonSoup read() {
    header();
    soup_.vertices.reserve(static_cast<std::size_t>(vertices_));
    soup_.sizes.reserve(static_cast<std::size_t>(faces_));
    for (std::uint64_t v = 0; v < vertices_; ++v) {
      look_up(v);
      if (!next_line())
        text_.refuse(fmt::format("the file ends after {} of {} vertices", v, vertices_), kAgain);
      vertex();
    }
    for (std::uint64_t f = 0; f < faces_; ++f) {
      look_up(f);
      if (!next_line())
        text_.refuse(fmt::format("the file ends after {} of {} faces", f, faces_), kAgain);
      face();
    }
    if (next_line())
      text_.refuse(fmt::format("more follows after the {} faces that were announced", faces_),
                   kAgain);
    return std::move(soup_);
  }

 private:
  void look_up(std::uint64_t item) const {
    if ((item & 0x3fff) != 0)
      return;
    run_.check();
    run_.progress("reading", 1 - static_cast<double>(text_.left().size()) /
                                     static_cast<double>(bytes_.size()));
  }

  /// Takes the words of the next line that has any, comments left out; false at the end.
  bool next_line() {
    words_.clear();
    while (words_.empty()) {
      text_.skip_blank_lines();
      if (text_.left().empty())
        return false;
      rest_of_text();
    }
    return true;
  }
  void rest_of_text() {
    for (std::string_view word = text_.word_in_line(); !word.empty() && word.front() != '#';
         word = text_.word_in_line())
      words_.push_back(word);
    text_.rest_of_line();
  }

  std::uint64_t whole_number(std::size_t which, std::string_view of_what) const {
    const std::string_view word = which < words_.size() ? words_[which] : std::string_view();
    std::uint64_t value = 0;
    const auto [end, error] = std::from_chars(word.data(), word.data() + word.size(), value);
    if (word.empty() || error != std::errc{} || end != word.data() + word.size())
      text_.refuse(fmt::format("{} is missing or no whole number", of_what), kAgain);
    return value;
  }

  void header() {
    if (!next_line())
      text_.refuse("OFF without a first line", kAgain);
    std::string_view keyword = words_.front();
    const auto take = [&keyword](std::string_view part) {
      const bool there = keyword.starts_with(part);
      keyword.remove_prefix(there ? part.size() : 0);
      return there;
    };
    textured_ = take("ST");
    coloured_ = take("C");
    with_normals_ = take("N");
    const bool four = take("4"), stated = take("n");
    if (keyword != "OFF")
      text_.refuse("the first word is not OFF", kAgain);
    if (four || stated || (words_.size() > 1 && words_[1] == "BINARY"))
      text_.refuse("OFF in binary or in other than three dimensions is not read",
                   "export as binary STL or PLY");
    words_.erase(words_.begin());
    if (words_.empty() && !next_line())
      text_.refuse("the counts are missing", kAgain);
    vertices_ = whole_number(0, "the count of vertices");
    faces_ = whole_number(1, "the count of faces");
    if (words_.size() > 3)
      text_.refuse("more than three counts stand in a line", kAgain);
    // Three numbers and their blanks, or a count and three corners: six bytes at the least.
    const std::uint64_t room = text_.left().size() / 6 + 1;
    if (vertices_ > room || faces_ > room)
      text_.refuse(fmt::format("{} vertices and {} faces are announced, more than the file holds",
                               vertices_, faces_),
                   kAgain);
  }

  void vertex() {
    const std::size_t least = 3 + (with_normals_ ? 3u : 0u) + (textured_ ? 2u : 0u),
                      more = words_.size() - std::min(words_.size(), least);
    if (words_.size() < least || (coloured_ ? more != 3 && more != 4 : more != 0))
      text_.refuse(
          fmt::format("a vertex has {} numbers, not what the first word announces", words_.size()),
          kAgain);
    double value[3] = {0, 0, 0};
    for (std::size_t i = 0; i < words_.size(); ++i)
      (i < 3 ? value[i] : beside_) = text_.number_of(words_[i]);
    soup_.vertices.push_back({value[0], value[1], value[2]});
  }

  void face() {
    const std::uint64_t corners = whole_number(0, "the count of corners");
    if (corners == 0)
      text_.refuse("a face has no corners", kAgain);
    if (corners > words_.size() - 1)
      text_.refuse(fmt::format("a face names {} of its {} corners", words_.size() - 1, corners),
                   kAgain);
    std::uint64_t at = 0;
    for (std::size_t i = 1; i <= corners; ++i) {
      at = whole_number(i, "a corner of a face");
      if (at >= vertices_)
        text_.refuse(fmt::format("a face names vertex {} of {}", at, vertices_), kAgain);
      soup_.corners.push_back(static_cast<std::uint32_t>(at));
    }
    // A colour follows: the number of one, or three or four parts of one.
    const std::size_t more = words_.size() - 1 - static_cast<std::size_t>(corners);
    if (more != 0 && more != 1 && more != 3 && more != 4)
      text_.refuse(fmt::format("{} numbers follow the {} corners of a face", more, corners),
                   kAgain);
    for (std::size_t i = words_.size() - more; i < words_.size(); ++i)
      text_.number_of(words_[i]);
    if (more == 0 && text_.left().empty() && may_lack_digits(bytes_, at, vertices_ - 1))
      text_.refuse("the file ends in a number, perhaps cut off",
                   "export or copy it again, or add a line end if it is whole");
    soup_.sizes.push_back(static_cast<std::uint32_t>(corners));
  }

  std::string_view bytes_;
  TextScanner text_;
  const RunContext& run_;
  std::vector<std::string_view> words_; ///< of one line
  bool textured_ = false, coloured_ = false, with_normals_ = false;
  std::uint64_t vertices_ = 0, faces_ = 0;
  double beside_ = 0; ///< part of a normal or a colour: only whether it is a number counts
  PolygonSoup soup_;
};

} // namespace

FileMesh read_off(const MappedFile& file, const RunContext& run) {
  FileMesh read;
  read.format = "OFF";
  take_polygons(file.path(), OffReader(file, run).read(), read);
  return read;
}

} // namespace leastwall
