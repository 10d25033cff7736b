#include "mesh/formats/ply_header.h"

#include "base/file/refuse_file.h"
#include "mesh/syntax/text_scanner.h"

#include <algorithm>
#include <charconv>
#include <fmt/format.h>
#include <optional>

namespace leastwall {
namespace {

constexpr std::size_t kLongestHeader = 1 << 16;
constexpr std::string_view kAgain = "export the mesh again";

std::optional<PlyType> type_named(std::string_view name) {
  struct Named {
    std::string_view name;
    PlyType type;
  };
  static constexpr Named kNames[] = {
      {"char", PlyType::i8},    {"int8", PlyType::i8},     {"uchar", PlyType::u8},
      {"uint8", PlyType::u8},   {"short", PlyType::i16},   {"int16", PlyType::i16},
      {"ushort", PlyType::u16}, {"uint16", PlyType::u16},  {"int", PlyType::i32},
      {"int32", PlyType::i32},  {"uint", PlyType::u32},    {"uint32", PlyType::u32},
      {"float", PlyType::f32},  {"float32", PlyType::f32}, {"double", PlyType::f64},
      {"float64", PlyType::f64}};
  for (const Named& n : kNames)
    if (n.name == name)
      return n.type;
  return std::nullopt;
}

bool is_whole(PlyType type) {
  return type != PlyType::f32 && type != PlyType::f64;
}

class HeaderParser {
 public:
  explicit HeaderParser(const MappedFile& file)
      : file_(file), text_(file.text().substr(0, kLongestHeader), file.path()) {}

  PlyHeader parse() {
    text_.rest_of_line(); // ply
    bool format_seen = false;
    for (;;) {
      const std::string_view word = text_.word();
      if (word == "end_header")
        break;
      if (word == "format") {
        format_seen = true;
        format();
      } else if (word == "element") {
        element();
      } else if (word == "property") {
        property();
      } else if (word.empty()) {
        text_.refuse("PLY header has no end_header", kAgain);
      } else if (word != "comment" && word != "obj_info") {
        text_.refuse(fmt::format("\"{}\" is not a PLY header word", one_line(word, 40)), kAgain);
      }
      if (word == "comment" || word == "obj_info")
        text_.rest_of_line();
      else if (!text_.word_in_line().empty())
        text_.refuse("has more words than a PLY header line may have", kAgain);
    }
    header_.lines = text_.line();
    end_of_header();
    if (!format_seen)
      text_.refuse("PLY header names no format", kAgain);
    check_room();
    return header_;
  }

 private:
  void format() {
    const std::string_view body = text_.word_in_line();
    if (body == "ascii")
      header_.body = PlyHeader::Body::ascii;
    else if (body == "binary_little_endian")
      header_.body = PlyHeader::Body::little;
    else if (body == "binary_big_endian")
      header_.body = PlyHeader::Body::big;
    else
      text_.refuse(fmt::format("PLY format \"{}\" is unknown", one_line(body, 40)), kAgain);
    if (text_.word_in_line() != "1.0")
      text_.refuse("PLY version is not 1.0", kAgain);
  }

  void element() {
    PlyElement e;
    e.name = text_.word_in_line();
    const std::string_view count = text_.word_in_line();
    const auto [end, error] = std::from_chars(count.data(), count.data() + count.size(), e.count);
    if (count.empty() || error != std::errc{} || end != count.data() + count.size())
      text_.refuse(fmt::format("\"{}\" is not a count", one_line(count, 40)), kAgain);
    for (const PlyElement& other : header_.elements)
      if (other.name == e.name)
        text_.refuse(fmt::format("element \"{}\" is there twice", one_line(e.name, 40)), kAgain);
    header_.elements.push_back(std::move(e));
  }

  PlyType type() {
    const std::string_view name = text_.word_in_line();
    const std::optional<PlyType> found = type_named(name);
    if (!found)
      text_.refuse(fmt::format("\"{}\" is not a PLY type", one_line(name, 40)), kAgain);
    return *found;
  }

  void property() {
    if (header_.elements.empty())
      text_.refuse("property before any element", kAgain);
    PlyProperty p;
    TextScanner ahead = text_;
    if (ahead.word_in_line() == "list") {
      text_.word_in_line();
      p.is_list = true;
      p.count_type = type();
      if (!is_whole(p.count_type))
        text_.refuse("a list is counted in fractions", kAgain);
    }
    p.type = type();
    p.name = text_.word_in_line();
    if (p.name.empty())
      text_.refuse("property without a name", kAgain);
    for (const PlyProperty& other : header_.elements.back().properties)
      if (other.name == p.name)
        text_.refuse(fmt::format("property \"{}\" is there twice", one_line(p.name, 40)), kAgain);
    header_.elements.back().properties.push_back(std::move(p));
  }

  /// Data starts right after the line end of end_header: exactly the kind of line end that the
  /// first line has, because the next byte may be data that looks like a line end.
  void end_of_header() {
    const std::string_view bytes = file_.text();
    std::size_t at = static_cast<std::size_t>(text_.left().data() - bytes.data());
    if (at < bytes.size() && bytes[at] == '\r') {
      ++at;
      const std::size_t first = bytes.find_first_of("\r\n");
      const bool pairs = bytes[first] == '\n' || bytes.substr(first, 2) == "\r\n";
      if (pairs && at < bytes.size() && bytes[at] == '\n')
        ++at;
    } else if (at < bytes.size() && bytes[at] == '\n') {
      ++at;
    } else {
      text_.refuse("PLY header does not end in end_header and a line end", kAgain);
    }
    header_.size = at;
  }

  void check_room() const {
    std::uint64_t left = file_.size() - header_.size;
    for (const PlyElement& e : header_.elements) {
      if (e.count == 0)
        continue;
      std::uint64_t least = 0; // bytes of one item, lists empty
      for (const PlyProperty& p : e.properties)
        least +=
            header_.body == PlyHeader::Body::ascii ? 2 : size_of(p.is_list ? p.count_type : p.type);
      if (least == 0)
        refuse_file(file_.path(), fmt::format("PLY element \"{}\" has no properties", e.name),
                    kAgain);
      // The last number of a text needs no separator after it.
      if (e.count > (left + 1) / least)
        refuse_file(file_.path(),
                    fmt::format("PLY says {} of element \"{}\" but has no room for them: cut off, "
                                "or a wrong count",
                                e.count, e.name),
                    "export or copy it again");
      left -= std::min(left, e.count * least);
    }
  }

  const MappedFile& file_;
  TextScanner text_;
  PlyHeader header_;
};

} // namespace

std::size_t size_of(PlyType type) {
  switch (type) {
  case PlyType::i8:
  case PlyType::u8:
    return 1;
  case PlyType::i16:
  case PlyType::u16:
    return 2;
  case PlyType::i32:
  case PlyType::u32:
  case PlyType::f32:
    return 4;
  case PlyType::f64:
    return 8;
  }
  return 8;
}

bool looks_like_ply(std::string_view bytes) {
  return bytes.size() > 4 && bytes.substr(0, 3) == "ply" && (bytes[3] == '\n' || bytes[3] == '\r');
}

PlyHeader read_ply_header(const MappedFile& file) {
  return HeaderParser(file).parse();
}

} // namespace leastwall
