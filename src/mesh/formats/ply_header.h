// The header of a PLY file. Source: Turk, "The PLY Polygon File Format", 1994.
#pragma once

#include "base/file/mapped_file.h"

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

namespace leastwall {

enum class PlyType { i8, u8, i16, u16, i32, u32, f32, f64 };
/// Bytes of one value.
std::size_t size_of(PlyType type);

struct PlyProperty {
  std::string name;
  PlyType type = PlyType::f32;
  bool is_list = false;
  PlyType count_type = PlyType::u8; ///< of a list
};

struct PlyElement {
  std::string name;
  std::uint64_t count = 0;
  std::vector<PlyProperty> properties;
};

struct PlyHeader {
  enum class Body { ascii, little, big } body = Body::ascii;
  std::vector<PlyElement> elements; ///< in file order
  std::size_t size = 0;             ///< bytes; the data starts right after
  std::size_t lines = 0;
};

/// True when the bytes begin as a PLY file does.
bool looks_like_ply(std::string_view bytes);

/// Throws InputError for anything the format does not allow: unknown words or types, the same name
/// twice, counts that the rest of the file has no room for, a missing end.
PlyHeader read_ply_header(const MappedFile& file);

} // namespace leastwall
