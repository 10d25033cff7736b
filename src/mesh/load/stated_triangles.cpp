#include "mesh/load/stated_triangles.h"

#include "base/file/mapped_file.h"
#include "mesh/formats/ply_header.h"
#include "mesh/formats/read_stl_binary.h"

namespace leastwall {

std::optional<std::uint64_t> stated_triangles(const std::filesystem::path& file) {
  const MappedFile bytes(file);
  if (looks_like_ply(bytes.text())) {
    for (const PlyElement& e : read_ply_header(bytes).elements)
      // A face takes four bytes or more: what promises more is for the reader to refuse.
      if (e.name == "face" && e.count <= bytes.size() / 4)
        return e.count;
    return std::nullopt;
  }
  if (has_binary_stl_size(bytes.text()))
    return (bytes.size() - 84) / 50;
  return std::nullopt;
}

} // namespace leastwall
