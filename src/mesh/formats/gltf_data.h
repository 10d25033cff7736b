// The numbers behind the accessors of a glTF file. Source: Khronos Group, "glTF 2.0 Specification",
// 3.6 (binary data storage).
#pragma once

#include "mesh/formats/gltf_document.h"
#include "space/vec3.h"

#include <cstdint>
#include <deque>
#include <string>
#include <vector>

namespace leastwall {

/// Buffers are read when they are first asked for: the binary part of the file, data within the
/// JSON, or regular files in the model's folder or below it; no other file is opened.
class GltfData {
 public:
  struct Positions {
    const char* at = nullptr;
    std::uint64_t count = 0, step = 0; ///< bytes from one to the next
    Vec3 operator[](std::size_t i) const;
  };

  GltfData(const MappedFile& file, const GltfDocument& document);

  /// Of an accessor of three single-precision numbers each; quantized ones are refused, as are
  /// sparse ones and such as have no data.
  Positions positions(std::uint64_t accessor);
  /// Of an accessor of whole numbers from 0.
  std::vector<std::uint32_t> indices(std::uint64_t accessor);
  /// Throws InputError when a file of the model has changed since it was opened.
  void check_unchanged() const;

 private:
  struct Items {
    const char* at = nullptr;
    std::uint64_t count = 0, step = 0;
    std::uint64_t type = 0; ///< of the component
  };
  Items items(std::uint64_t accessor, const char* shape, std::uint64_t numbers);
  std::string_view buffer(std::uint64_t which);
  std::string_view side_file(const std::string& uri, std::uint64_t which);

  const MappedFile& file_;
  const GltfDocument& document_;
  const nlohmann::json& buffers_;
  std::vector<std::optional<std::string_view>> bytes_; ///< of the buffers that were asked for
  std::deque<std::string> decoded_;
  std::deque<MappedFile> side_files_;
};

} // namespace leastwall
