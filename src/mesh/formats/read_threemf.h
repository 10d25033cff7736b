// 3MF: what its build places. Source: as threemf_model.h.
#pragma once

#include "base/file/mapped_file.h"
#include "base/run_context.h"
#include "mesh/file_mesh.h"

#include <cstdint>

namespace leastwall {

/// All that the items of the build place, as one mesh, mirrored placings turned. Left out and told:
/// objects of the types support, surface and other (notice `not-solid`), items that are marked as
/// not printable (`not-printable`), objects that nothing places (`not-placed`). Throws InputError
/// as read_threemf_model() does, and when nothing is left or it takes more than `max_bytes`.
FileMesh read_threemf(const MappedFile& file, std::uint64_t max_bytes, const RunContext& run);

} // namespace leastwall
