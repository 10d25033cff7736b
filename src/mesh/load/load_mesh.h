// From a file to a mesh in millimetres, welded, checked and described.
#pragma once

#include "base/notice.h"
#include "base/run_context.h"
#include "mesh/inspect_mesh.h"
#include "mesh/load_options.h"
#include "mesh/mesh.h"

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace leastwall {

struct LoadedMesh {
  TriMesh mesh;             ///< mm, exactly welded; degenerate and doubled facets dropped
  MeshFindings findings;    ///< of `mesh`, plus what was dropped
  std::string format;       ///< "binary STL", "ASCII PLY", "3MF", ...
  std::string unit;         ///< unit the numbers were read in, in words
  bool unit_stated = false; ///< true when the file itself states its unit
  std::vector<Notice> notices;
};

/// Reads one file: every mesh and instance in it, node transforms applied, into one welded mesh in
/// mm. Throws InputError naming the file, what is wrong and what to do; never returns an empty or
/// partly read mesh.
LoadedMesh load_mesh(const std::filesystem::path& file, const LoadOptions& options,
                     const RunContext& run);

} // namespace leastwall
