// From a file to a mesh in millimetres, welded, checked and described.
#pragma once

#include "base/notice.h"
#include "base/run_context.h"
#include "base/units.h"
#include "geometry/inspect_mesh.h"
#include "geometry/mesh.h"

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace leastwall {

struct LoadOptions {
  /// Unit of files that state none (STL, PLY, OBJ). Unset: millimetres, and a notice says so.
  std::optional<LengthUnit> unit_if_unstated;
  /// Limits for the import process (other formats than STL and PLY).
  double import_timeout_s = 120;
  std::uint64_t import_memory_bytes = std::uint64_t{6} << 30;
  /// What the user does to have such a file read in inches, as a part of a sentence.
  std::string say_inches = "say --units inch";
};

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
