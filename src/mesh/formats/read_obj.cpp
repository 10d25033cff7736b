#include "mesh/formats/read_obj.h"

#include "base/file/refuse_file.h"
#include "mesh/polygon_soup.h"
#include "mesh/syntax/mesh_text.h"
#include "mesh/syntax/text_scanner.h"

#include <algorithm>
#include <charconv>
#include <fmt/format.h>

namespace leastwall {
namespace {

constexpr std::string_view kAgain = "the file is damaged or malformed: export the mesh again";
constexpr std::string_view kCut = "export or copy it again, or add a line end if it is whole";

/// Statements that change no polygon.
constexpr std::string_view kLooks[] = {
    "vn",     "vt",  "vp",    "g",        "o",        "s", "mg", "usemtl",     "mtllib",   "usemap",
    "maplib", "lod", "bevel", "c_interp", "d_interp", "p", "l",  "shadow_obj", "trace_obj"};

class ObjReader {
 public:
  ObjReader(const MappedFile& file, const RunContext& run)
      : file_(file), bytes_(mesh_text(file, "OBJ")), text_(bytes_, file.path()), run_(run) {}

  PolygonSoup read() {
    for (std::size_t line = 0; text_.skip_blank_lines(), !text_.left().empty(); ++line) {
      if ((line & 0x3fff) == 0) {
        run_.check();
        run_.progress("reading", 1 - static_cast<double>(text_.left().size()) /
                                         static_cast<double>(bytes_.size()));
      }
      statement();
    }
    if (largest_ > soup_.vertices.size())
      refuse_file(file_.path(),
                  fmt::format("line {}: a face names vertex {} of {}", largest_line_, largest_,
                              soup_.vertices.size()),
                  kAgain);
    if (ends_in_face_ && may_lack_digits(bytes_, last_number_, soup_.vertices.size()))
      text_.refuse("the file ends in a number, perhaps cut off", kCut);
    return std::move(soup_);
  }

 private:
  void statement() {
    const std::string_view keyword = text_.word_in_line();
    ends_in_face_ = false;
    if (keyword.front() == '#') {
      text_.rest_of_line();
    } else if (keyword == "v") {
      take_text();
      vertex();
    } else if (keyword == "f" || keyword == "fo") {
      take_text();
      face();
    } else if (std::find(std::begin(kLooks), std::end(kLooks), keyword) == std::end(kLooks)) {
      text_.refuse(fmt::format("OBJ statement \"{}\" is not read here", one_line(keyword, 40)),
                   "export the surface as a mesh of triangles");
    } else if (keyword.front() == 'v' || keyword == "p" || keyword == "l") {
      take_text();
      if (keyword == "p" || keyword == "l")
        soup_.sizes.push_back(0); // counted by take_polygons
    } else { // names may end in a backslash: what follows them is a statement of its own
      text_.rest_of_line();
    }
  }

  /// The words of a statement; a backslash at the end of a line joins the next one to it.
  void take_text() {
    words_.clear();
    for (std::string_view word = text_.word_in_line(); !word.empty() && word.front() != '#';
         word = text_.word_in_line()) {
      const std::string_view left = text_.left();
      if (word.back() == '\\' && (left.empty() || left[0] == '\n' || left[0] == '\r')) {
        text_.rest_of_line();
        if (text_.left().empty())
          text_.refuse("the file ends where a line goes on", kAgain);
        word.remove_suffix(1);
      }
      if (!word.empty())
        words_.push_back(word);
    }
    text_.rest_of_line();
  }

  void vertex() {
    const std::size_t n = words_.size();
    if (n != 3 && n != 4 && n != 6)
      text_.refuse(fmt::format("a vertex has {} numbers instead of 3", n), kAgain);
    double value[6] = {0, 0, 0, 1, 0, 0};
    for (std::size_t i = 0; i < n; ++i)
      value[i] = text_.number_of(words_[i]);
    if (n == 4 && value[3] != 1)
      text_.refuse(fmt::format("a vertex has a fourth number, {}", one_line(words_[3], 40)),
                   "export plain vertices of three numbers");
    for (std::size_t i = 3; n == 6 && i < n; ++i)
      if (!(value[i] >= 0 && value[i] <= 255))
        text_.refuse("a vertex has six numbers, and the last three are no colour", kAgain);
    if (text_.left().empty() && bytes_.back() != '\n' && bytes_.back() != '\r')
      text_.refuse("the file ends in a coordinate, perhaps cut off", kCut);
    soup_.vertices.push_back({value[0], value[1], value[2]});
  }

  /// Takes a whole number, or nothing, from the front of `part`.
  std::int64_t take_number(std::string_view& part, std::string_view word) const {
    std::int64_t value = 0;
    const auto [end, error] = std::from_chars(part.data(), part.data() + part.size(), value);
    if (error == std::errc::result_out_of_range || (error == std::errc{} && value == 0))
      text_.refuse(fmt::format("a face names \"{}\", which is no vertex", one_line(word, 40)),
                   kAgain);
    part.remove_prefix(static_cast<std::size_t>(end - part.data()));
    return value;
  }

  /// A corner: VERTEX, VERTEX/TEXTURE, VERTEX//NORMAL or VERTEX/TEXTURE/NORMAL.
  void corner(std::string_view word) {
    std::string_view part = word;
    const std::int64_t number = take_number(part, word);
    const auto without_sign = static_cast<std::uint64_t>(number < 0 ? -number : number);
    last_number_ = part.empty() ? without_sign : 0; // more of a texture or normal changes nothing
    for (int looks = 0; looks < 2 && number != 0 && part.starts_with('/'); ++looks) {
      part.remove_prefix(1);
      take_number(part, word);
    }
    if (number == 0 || !part.empty())
      text_.refuse(fmt::format("a face has a corner \"{}\", which is no number of a vertex",
                               one_line(word, 40)),
                   kAgain);
    const std::uint64_t here = soup_.vertices.size();
    if (number > 0xffffffffLL || (number < 0 && without_sign > here))
      text_.refuse(fmt::format("a face names vertex {} of {}", number, here), kAgain);
    const std::uint64_t at = number > 0 ? without_sign : here + 1 - without_sign;
    if (at > largest_) {
      largest_ = at;
      largest_line_ = text_.line();
    }
    soup_.corners.push_back(static_cast<std::uint32_t>(at - 1));
  }

  void face() {
    if (words_.size() < 3)
      text_.refuse(fmt::format("a face has {} corners, fewer than three", words_.size()), kAgain);
    for (const std::string_view word : words_)
      corner(word);
    soup_.sizes.push_back(static_cast<std::uint32_t>(words_.size()));
    ends_in_face_ = true;
    const bool ended = !text_.left().empty() || bytes_.back() == '\n' || bytes_.back() == '\r';
    const auto slashes = [](std::string_view word) {
      return std::count(word.begin(), word.end(), '/');
    };
    // Corners of one face are written alike, and most files have faces of one kind.
    if (!ended && (slashes(words_.back()) != slashes(words_.front()) ||
                   words_.back().back() == '/' || words_.size() < corners_before_))
      text_.refuse("the file ends within a face, perhaps cut off", kCut);
    corners_before_ = words_.size();
  }

  const MappedFile& file_;
  std::string_view bytes_;
  TextScanner text_;
  const RunContext& run_;
  std::vector<std::string_view> words_; ///< of one statement, without its first
  PolygonSoup soup_;
  std::uint64_t largest_ = 0; ///< number of a vertex that a face names, from 1
  std::size_t largest_line_ = 0, corners_before_ = 0;
  bool ends_in_face_ = false;
  std::uint64_t last_number_ = 0; ///< of a vertex, as the last corner ends in it; 0: it does not
};

} // namespace

FileMesh read_obj(const MappedFile& file, const RunContext& run) {
  FileMesh read;
  read.format = "OBJ";
  take_polygons(file.path(), ObjReader(file, run).read(), read);
  return read;
}

} // namespace leastwall
