#include "mesh/nonfinite_vertices.h"

#include "base/file/refuse_file.h"

#include <fmt/format.h>

namespace leastwall {

void NonfiniteVertices::refuse_any(const std::filesystem::path& file,
                                   std::string_view place) const {
  if (count > 0)
    refuse_file(file,
                fmt::format("{} {} not finite (NaN or infinite), first at {} {}", count,
                            count == 1 ? "vertex is" : "vertices are", place, first),
                "repair the mesh in the modeller and export it again");
}

} // namespace leastwall
