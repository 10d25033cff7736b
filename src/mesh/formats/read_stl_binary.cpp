#include "mesh/formats/read_stl_binary.h"

#include "base/file/refuse_file.h"
#include "mesh/nonfinite_vertices.h"
#include "mesh/stored_normals.h"
#include "mesh/vertex_welder.h"

#include <array>
#include <bit>
#include <cstring>
#include <fmt/format.h>

namespace leastwall {
namespace {

constexpr std::uint64_t kHeader = 84, kFacet = 50;
constexpr std::size_t kAhead = 8; // facets whose corners are looked for at once
static_assert(std::endian::native == std::endian::little, "STL floats are read as they lie");

std::uint64_t stated_count(std::string_view bytes) {
  std::uint32_t count = 0;
  std::memcpy(&count, bytes.data() + 80, sizeof count);
  return count;
}

/// Some writers append data to each facet and give its length in the attribute bytes. True when
/// stepping that way lands exactly on the end of the file.
bool has_attribute_data(std::string_view bytes, std::uint64_t count) {
  std::uint64_t at = kHeader;
  for (std::uint64_t i = 0; i < count; ++i) {
    if (at + kFacet > bytes.size())
      return false;
    std::uint16_t extra = 0;
    std::memcpy(&extra, bytes.data() + at + 48, sizeof extra);
    at += kFacet + extra;
  }
  return at == bytes.size();
}

/// The file's bytes in order, copied a piece at a time.
class ByteStream {
 public:
  ByteStream(const MappedFile& file, std::uint64_t from)
      : file_(file), next_(from),
        piece_(static_cast<std::size_t>(std::min<std::uint64_t>(kPiece, file.size() - from))) {}

  /// The next `size` bytes, which must be left; good until the next call.
  const char* take(std::size_t size) {
    if (end_ - at_ < size)
      fill(size);
    const char* bytes = piece_.data() + at_;
    at_ += size;
    return bytes;
  }
  void skip(std::uint64_t size) {
    const std::uint64_t here = std::min<std::uint64_t>(size, end_ - at_);
    at_ += static_cast<std::size_t>(here);
    next_ += size - here;
  }

 private:
  static constexpr std::size_t kPiece = 1 << 18;

  void fill(std::size_t size) {
    const std::size_t left = end_ - at_;
    std::memmove(piece_.data(), piece_.data() + at_, left);
    const std::uint64_t rest = next_ < file_.size() ? file_.size() - next_ : 0;
    const std::size_t room = piece_.size() - left;
    // What is not there any more is asked for all the same, and refused.
    const std::size_t more =
        std::max(static_cast<std::size_t>(std::min<std::uint64_t>(room, rest)), size - left);
    file_.copy(next_, piece_.data() + left, more);
    next_ += more;
    at_ = 0;
    end_ = left + more;
  }

  const MappedFile& file_;
  std::uint64_t next_; // in the file, after what is in the piece
  std::vector<char> piece_;
  std::size_t at_ = 0, end_ = 0;
};

} // namespace

bool has_binary_stl_size(std::string_view bytes) {
  return bytes.size() >= kHeader && bytes.size() == kHeader + kFacet * stated_count(bytes);
}

FileMesh read_stl_binary(const MappedFile& file, const RunContext& run) {
  const std::string_view bytes = file.text();
  if (bytes.size() < kHeader)
    refuse_file(file.path(),
                fmt::format("{} bytes are too few for an STL file (84 before the first facet)",
                            bytes.size()),
                "export the mesh again");
  const std::uint64_t count = stated_count(bytes), room = (bytes.size() - kHeader) / kFacet;
  FileMesh read;
  read.format = "binary STL";
  read.single_numbers = true;
  bool with_data = false;
  if (count > room)
    refuse_file(file.path(),
                fmt::format("binary STL says {} facets but has room for {}: cut off, or a wrong "
                            "count",
                            count, room),
                "export or copy it again");
  if (count == 0)
    refuse_file(file.path(),
                room == 0 ? std::string("binary STL without facets")
                          : fmt::format("binary STL says 0 facets but {} bytes follow",
                                        bytes.size() - kHeader),
                "export the mesh again");
  if (const std::uint64_t left = bytes.size() - kHeader - kFacet * count; left > 0) {
    with_data = has_attribute_data(bytes, count);
    if (!with_data && left >= kFacet)
      refuse_file(file.path(),
                  fmt::format("binary STL says {} facets but has room for {}: part of the mesh "
                              "would be left out",
                              count, room),
                  "export the mesh again");
    if (!with_data)
      read.notices.push_back(
          {"trailing-bytes", fmt::format("{} bytes after the last facet were ignored. The facets "
                                         "are complete; export again if in doubt.",
                                         left)});
  }
  if (count > 0xffffffffu / 3 - 1)
    refuse_file(file.path(), fmt::format("{} facets are too many", count), "decimate the mesh");

  VertexWelder welder(static_cast<std::size_t>(count / 2 + 16));
  read.mesh.triangles.reserve(static_cast<std::size_t>(count));
  NonfiniteVertices bad;
  StoredNormals normals;
  ByteStream stream(file, kHeader);
  std::array<std::array<VertexWelder::Ready, 3>, kAhead> ready;
  std::size_t waiting = 0;
  const auto weld = [&] {
    for (std::size_t k = 0; k < waiting; ++k) {
      const Tri tri{welder.add(ready[k][0]), welder.add(ready[k][1]), welder.add(ready[k][2])};
      if (tri[0] == tri[1] || tri[1] == tri[2] || tri[2] == tri[0])
        ++read.collapsed;
      else
        read.mesh.triangles.push_back(tri);
    }
    waiting = 0;
  };
  for (std::uint64_t i = 0; i < count; ++i) {
    if ((i & 0xffff) == 0) {
      run.check();
      run.progress("reading", static_cast<double>(i) / static_cast<double>(count));
    }
    const char* facet = stream.take(kFacet);
    float f[12];
    std::memcpy(f, facet, sizeof f);
    if (with_data) {
      std::uint16_t extra = 0;
      std::memcpy(&extra, facet + 48, sizeof extra);
      stream.skip(extra);
    }
    Vec3 p[3];
    bool finite = true;
    for (int k = 0; k < 3; ++k) {
      p[k] = {double{f[3 + 3 * k]}, double{f[4 + 3 * k]}, double{f[5 + 3 * k]}};
      if (!is_finite(p[k])) {
        bad.add(i + 1);
        finite = false;
      }
    }
    if (!finite)
      continue;
    normals.add({double{f[0]}, double{f[1]}, double{f[2]}}, p[0], p[1], p[2]);
    ready[waiting++] = {welder.ready(p[0]), welder.ready(p[1]), welder.ready(p[2])};
    if (waiting == kAhead)
      weld();
  }
  weld();
  bad.refuse_any(file.path(), "facet");
  read.mesh.vertices = welder.take_points();
  normals.describe(read.notices);
  return read;
}

} // namespace leastwall
