// Writers that put a mesh on disk piece by piece, so that a mesh of any size needs little memory.
// Both write little-endian float32 coordinates in mm, and the same bytes for the same input.
#pragma once

#include "space/vec3.h"

#include <cstdint>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

namespace leastwall::demo {

/// File that is written in large blocks. Throws RunError when the disk refuses.
class BlockFile {
 public:
  explicit BlockFile(const std::filesystem::path& path);
  void put_text(const std::string& text);
  void put_u8(std::uint8_t value);
  void put_u32(std::uint32_t value);
  void put_f32(double value);
  /// Writes what is left and checks that all of it arrived.
  void close();

 private:
  void flush();
  std::filesystem::path path_;
  std::ofstream out_;
  std::string block_;
};

/// Binary STL; the number of triangles must be known beforehand.
class StlStream {
 public:
  StlStream(const std::filesystem::path& path, std::uint32_t triangles);
  /// Corners counter-clockwise seen from outside. A triangle with two equal corners (after rounding
  /// to float32) would be no triangle: RunError.
  void triangle(Vec3 a, Vec3 b, Vec3 c);
  /// Checks the promised number of triangles.
  void close();

 private:
  BlockFile file_;
  std::uint32_t promised_;
  std::uint32_t written_ = 0;
};

/// Binary little-endian PLY of one height field: columns x rows points, two triangles per cell,
/// facets facing up. Points come row by row, x fastest. Each cell is cut along the diagonal that is
/// flatter, so that creases keep their line.
class PlyGrid {
 public:
  PlyGrid(const std::filesystem::path& path, const std::string& comment, std::uint32_t columns,
          std::uint32_t rows);
  void point(Vec3 p);
  /// Writes the facets and closes the file.
  void close();

 private:
  BlockFile file_;
  std::uint32_t columns_, rows_;
  std::vector<double> z_;
};

} // namespace leastwall::demo
