#include "mesh_stream.h"

#include "base/errors.h"
#include "space/single.h"

#include <bit>
#include <cmath>

namespace leastwall::demo {
namespace {

constexpr std::size_t block_bytes = std::size_t{1} << 20;

} // namespace

BlockFile::BlockFile(const std::filesystem::path& path)
    : path_(path), out_(path, std::ios::binary | std::ios::trunc) {
  if (!out_)
    throw RunError(path.string() + ": cannot be written; check the folder and its permissions");
  block_.reserve(block_bytes + 64);
}

void BlockFile::put_text(const std::string& text) {
  block_ += text;
  if (block_.size() >= block_bytes)
    flush();
}

void BlockFile::put_u8(std::uint8_t value) {
  block_ += static_cast<char>(value);
}

void BlockFile::put_u32(std::uint32_t value) {
  for (int shift = 0; shift < 32; shift += 8)
    block_ += static_cast<char>((value >> shift) & 0xffu);
  if (block_.size() >= block_bytes)
    flush();
}

void BlockFile::put_f32(double value) {
  // Adding zero turns -0 into 0, so that equal coordinates have equal bytes.
  put_u32(std::bit_cast<std::uint32_t>(static_cast<float>(value) + 0.0f));
}

void BlockFile::flush() {
  out_.write(block_.data(), static_cast<std::streamsize>(block_.size()));
  block_.clear();
}

void BlockFile::close() {
  flush();
  out_.close();
  if (!out_)
    throw RunError(path_.string() + ": could not be written to the end; is the disk full?");
}

StlStream::StlStream(const std::filesystem::path& path, std::uint32_t triangles)
    : file_(path), promised_(triangles) {
  std::string header = "leastwall demo mesh, mm";
  header.resize(80, ' ');
  file_.put_text(header);
  file_.put_u32(triangles);
}

void StlStream::triangle(Vec3 a, Vec3 b, Vec3 c) {
  a = in_single(a);
  b = in_single(b);
  c = in_single(c);
  if (a == b || b == c || c == a)
    throw RunError("demo mesh: two corners of a triangle fall together; ask for fewer triangles");
  for (const Vec3 v : {unit(cross(b - a, c - a)), a, b, c}) {
    file_.put_f32(v.x);
    file_.put_f32(v.y);
    file_.put_f32(v.z);
  }
  file_.put_u8(0);
  file_.put_u8(0);
  ++written_;
}

void StlStream::close() {
  if (written_ != promised_)
    throw RunError("demo mesh: " + std::to_string(written_) + " triangles written, " +
                   std::to_string(promised_) + " promised");
  file_.close();
}

PlyGrid::PlyGrid(const std::filesystem::path& path, const std::string& comment,
                 std::uint32_t columns, std::uint32_t rows)
    : file_(path), columns_(columns), rows_(rows) {
  const std::uint64_t points = std::uint64_t{columns} * rows;
  const std::uint64_t facets = std::uint64_t{2} * (columns - 1) * (rows - 1);
  file_.put_text("ply\nformat binary_little_endian 1.0\ncomment " + comment + "\nelement vertex " +
                 std::to_string(points) +
                 "\nproperty float x\nproperty float y\nproperty float z\nelement face " +
                 std::to_string(facets) + "\nproperty list uchar int vertex_indices\nend_header\n");
}

void PlyGrid::point(Vec3 p) {
  file_.put_f32(p.x);
  file_.put_f32(p.y);
  file_.put_f32(p.z);
  z_.push_back(p.z);
}

void PlyGrid::close() {
  if (z_.size() != std::uint64_t{columns_} * rows_)
    throw RunError("demo mesh: the height field has a wrong number of points");
  const auto facet = [this](std::uint32_t a, std::uint32_t b, std::uint32_t c) {
    file_.put_u8(3);
    file_.put_u32(a);
    file_.put_u32(b);
    file_.put_u32(c);
  };
  for (std::uint32_t j = 0; j + 1 < rows_; ++j) {
    for (std::uint32_t i = 0; i + 1 < columns_; ++i) {
      const std::uint32_t p = j * columns_ + i, q = p + columns_;
      const double rising = std::abs(z_[q + 1] - z_[p]), falling = std::abs(z_[q] - z_[p + 1]);
      // On the level it changes from cell to cell.
      if (rising < falling || (rising == falling && (i + j) % 2 == 0)) {
        facet(p, p + 1, q + 1);
        facet(p, q + 1, q);
      } else {
        facet(p, p + 1, q);
        facet(p + 1, q + 1, q);
      }
    }
  }
  file_.close();
}

} // namespace leastwall::demo
