// COLLADA, which the import process reads.
#pragma once

#include "base/file/mapped_file.h"
#include "base/run_context.h"
#include "mesh/file_mesh.h"
#include "mesh/load_options.h"

namespace leastwall {

/// A mesh without some of its faces is not that mesh: what comes out of the import is held against
/// what the file places. Throws InputError, RunError where the import fails, Cancelled.
FileMesh import_collada(const MappedFile& file, const LoadOptions& options, const RunContext& run);

} // namespace leastwall
