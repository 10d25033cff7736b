#include "mesh/formats/read_ply.h"

#include "base/file/refuse_file.h"
#include "mesh/formats/ply_header.h"
#include "mesh/polygon_soup.h"
#include "mesh/syntax/mesh_text.h"
#include "mesh/syntax/text_scanner.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstring>
#include <fmt/format.h>

namespace leastwall {
namespace {

constexpr std::string_view kAgain = "export or copy it again";

/// Values of an ASCII body, one item to a line.
class TextBody {
 public:
  TextBody(const MappedFile& file, const PlyHeader& header)
      : text_(file.text().substr(header.size), file.path(), header.lines + 1) {}

  void begin_item() { text_.skip_blank_lines(); }
  void end_item() {
    if (!text_.word_in_line().empty())
      text_.refuse("has too many numbers", "export the mesh again");
  }
  double number(PlyType) { return text_.number_in_line(); }
  std::int64_t whole(PlyType) {
    const double value = text_.number_in_line();
    if (!(std::abs(value) < 9e15) || value != std::floor(value))
      text_.refuse("has a fraction where a whole number was expected", "export the mesh again");
    return static_cast<std::int64_t>(value);
  }
  std::uint64_t bytes_left() const { return text_.left().size(); }
  void finish(std::vector<Notice>&) {
    if (!text_.word().empty())
      text_.refuse("stands after the last item that the PLY header announces", kAgain);
  }

 private:
  TextScanner text_;
};

/// Values of a binary body.
template <bool kSwap> class BinaryBody {
 public:
  BinaryBody(const MappedFile& file, const PlyHeader& header)
      : file_(file), at_(file.data() + header.size), end_(file.data() + file.size()) {}

  void begin_item() { item_ = at_; }
  void end_item() {}
  double number(PlyType type) {
    switch (type) {
    case PlyType::f32:
      return double{raw<float, std::uint32_t>()};
    case PlyType::f64:
      return raw<double, std::uint64_t>();
    default:
      return static_cast<double>(whole(type));
    }
  }
  std::int64_t whole(PlyType type) {
    switch (type) {
    case PlyType::i8:
      return raw<std::int8_t, std::uint8_t>();
    case PlyType::u8:
      return raw<std::uint8_t, std::uint8_t>();
    case PlyType::i16:
      return raw<std::int16_t, std::uint16_t>();
    case PlyType::u16:
      return raw<std::uint16_t, std::uint16_t>();
    case PlyType::i32:
      return raw<std::int32_t, std::uint32_t>();
    default:
      return raw<std::uint32_t, std::uint32_t>();
    }
  }
  std::uint64_t bytes_left() const { return static_cast<std::uint64_t>(end_ - at_); }
  void finish(std::vector<Notice>& notices) const {
    if (at_ == end_)
      return;
    if (end_ - at_ >= at_ - item_) // as long as the last item: perhaps one more
      refuse_file(
          file_.path(),
          fmt::format("{} bytes follow the last item that the PLY header announces", end_ - at_),
          kAgain);
    notices.push_back(
        {"trailing-bytes", fmt::format("{} bytes after the last face were ignored.", end_ - at_)});
  }

 private:
  template <class T, class Bits> T raw() {
    if (bytes_left() < sizeof(Bits))
      refuse_file(file_.path(), "PLY data ends before the last item: cut off, or a wrong count",
                  kAgain);
    Bits bits;
    std::memcpy(&bits, at_, sizeof bits);
    at_ += sizeof bits;
    if constexpr (kSwap && sizeof(Bits) == 2)
      bits = __builtin_bswap16(bits);
    if constexpr (kSwap && sizeof(Bits) == 4)
      bits = __builtin_bswap32(bits);
    if constexpr (kSwap && sizeof(Bits) == 8)
      bits = __builtin_bswap64(bits);
    return std::bit_cast<T>(bits);
  }

  const MappedFile& file_;
  const char* at_;
  const char* end_;
  const char* item_ = nullptr;
};

class PlyReader {
 public:
  PlyReader(const MappedFile& file, const PlyHeader& header, const RunContext& run)
      : file_(file), header_(header), run_(run) {}

  template <class Body> PolygonSoup read(Body body, std::vector<Notice>& notices) {
    for (const PlyElement& e : header_.elements) {
      const Roles roles = roles_of(e);
      if (roles.vertex)
        soup_.vertices.reserve(static_cast<std::size_t>(e.count));
      if (roles.indices >= 0) {
        soup_.sizes.reserve(static_cast<std::size_t>(e.count));
        soup_.corners.reserve(static_cast<std::size_t>(e.count) * 3);
      }
      for (std::uint64_t i = 0; i < e.count; ++i) {
        if ((i & 0xffff) == 0) {
          run_.check();
          run_.progress("reading", 1 - static_cast<double>(body.bytes_left()) /
                                           static_cast<double>(file_.size()));
        }
        item(body, e, roles, i);
      }
    }
    body.finish(notices);
    if (ends_in_corner() && may_lack_digits(file_.text(), soup_.corners.back(),
                                            std::max<std::size_t>(soup_.vertices.size(), 1) - 1))
      refuse_file(file_.path(), "the file ends in a number, perhaps cut off",
                  "export or copy it again, or add a line end if it is whole");
    return std::move(soup_);
  }

 private:
  struct Roles {
    bool vertex = false;
    int axis[3] = {-1, -1, -1}; ///< which property is x, y, z
    int indices = -1;           ///< which property lists a face's vertices
  };

  Roles roles_of(const PlyElement& e) const {
    Roles roles;
    for (int p = 0; p < static_cast<int>(e.properties.size()); ++p) {
      const PlyProperty& property = e.properties[static_cast<std::size_t>(p)];
      if (e.name == "vertex" && !property.is_list && property.name.size() == 1 &&
          property.name[0] >= 'x' && property.name[0] <= 'z')
        roles.axis[property.name[0] - 'x'] = p;
      if (e.name == "face" && property.is_list && property.type != PlyType::f32 &&
          property.type != PlyType::f64 &&
          (property.name == "vertex_indices" || property.name == "vertex_index"))
        roles.indices = p;
    }
    roles.vertex = e.name == "vertex";
    if (roles.vertex && std::min({roles.axis[0], roles.axis[1], roles.axis[2]}) < 0)
      refuse_file(file_.path(), "PLY vertices lack x, y or z", "export the mesh again");
    if (e.name == "face" && e.count > 0 && roles.indices < 0)
      refuse_file(file_.path(), "PLY faces lack a list vertex_indices", "export the mesh again");
    return roles;
  }

  /// Whether the last number of ASCII data names a corner of a face.
  bool ends_in_corner() const {
    if (header_.elements.empty())
      return false;
    const PlyElement& last = header_.elements.back();
    return header_.body == PlyHeader::Body::ascii && last.count > 0 && !soup_.corners.empty() &&
           roles_of(last).indices == static_cast<int>(last.properties.size()) - 1;
  }

  template <class Body>
  void item(Body& body, const PlyElement& e, const Roles& roles, std::uint64_t number) {
    body.begin_item();
    double xyz[3] = {0, 0, 0};
    for (int p = 0; p < static_cast<int>(e.properties.size()); ++p) {
      const PlyProperty& property = e.properties[static_cast<std::size_t>(p)];
      if (!property.is_list) {
        const double value = body.number(property.type);
        for (int k = 0; k < 3; ++k)
          if (roles.axis[k] == p)
            xyz[k] = value;
        continue;
      }
      const std::int64_t n = body.whole(property.count_type);
      if (n < 0 || static_cast<std::uint64_t>(n) > body.bytes_left())
        refuse_file(file_.path(),
                    fmt::format("PLY {} {} has a list of {} values, more than the file holds",
                                e.name, number + 1, n),
                    kAgain);
      if (p == roles.indices)
        soup_.sizes.push_back(static_cast<std::uint32_t>(n));
      for (std::int64_t k = 0; k < n; ++k) {
        if (p != roles.indices) {
          body.number(property.type);
          continue;
        }
        const std::int64_t index = body.whole(property.type);
        if (index < 0 || index > 0xfffffffe)
          refuse_file(file_.path(), fmt::format("PLY face {} names vertex {}", number + 1, index),
                      "export the mesh again");
        soup_.corners.push_back(static_cast<std::uint32_t>(index));
      }
    }
    body.end_item();
    if (roles.vertex)
      soup_.vertices.push_back({xyz[0], xyz[1], xyz[2]});
  }

  const MappedFile& file_;
  const PlyHeader& header_;
  const RunContext& run_;
  PolygonSoup soup_;
};

} // namespace

FileMesh read_ply(const MappedFile& file, const RunContext& run) {
  const PlyHeader header = read_ply_header(file);
  FileMesh read;
  PlyReader reader(file, header, run);
  PolygonSoup soup;
  static_assert(std::endian::native == std::endian::little);
  switch (header.body) {
  case PlyHeader::Body::ascii:
    read.format = "ASCII PLY";
    soup = reader.read(TextBody(file, header), read.notices);
    break;
  case PlyHeader::Body::little:
    read.format = "binary PLY";
    soup = reader.read(BinaryBody<false>(file, header), read.notices);
    break;
  case PlyHeader::Body::big:
    read.format = "binary PLY";
    soup = reader.read(BinaryBody<true>(file, header), read.notices);
    break;
  }
  for (const PlyElement& e : header.elements)
    for (const PlyProperty& p : e.properties)
      if (e.name == "vertex" && p.name == "x" && header.body != PlyHeader::Body::ascii)
        read.single_numbers = p.type == PlyType::f32;
  if (soup.sizes.empty())
    refuse_file(file.path(), "PLY without faces (a point cloud, or strips)",
                "export the surface as a mesh of triangles");
  take_polygons(file.path(), std::move(soup), read);
  return read;
}

} // namespace leastwall
