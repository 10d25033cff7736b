// COLLADA, which has no reader of our own: read by Assimp in a process of its own,
// `leastwall-import`, which may crash, hang or run out of memory without harm to us.
#pragma once

#include "base/run_context.h"
#include "mesh/load_options.h"
#include "mesh/polygon_soup.h"

#include <filesystem>
#include <string>

namespace leastwall {

struct ImportedSoup {
  PolygonSoup soup; ///< all instances, node transforms applied, mirrored ones turned; file's axes
  std::size_t placed = 0, not_placed = 0; ///< meshes placed (instances counted), meshes unused
  std::size_t remarks = 0;                ///< warnings and errors that the importer logged
  std::string first_remark;
};

/// The import program: beside our own executable, in ../libexec/leastwall/, or where the
/// environment variable LEASTWALL_IMPORT says. Throws RunError when there is none.
std::filesystem::path import_program();

/// Runs it within the limits of `options`. Throws InputError when it refuses, crashes, or takes too
/// long or too much memory, RunError when it cannot be started, Cancelled when `run` says so.
ImportedSoup import_mesh(const std::filesystem::path& file, const LoadOptions& options,
                         const RunContext& run);

} // namespace leastwall
