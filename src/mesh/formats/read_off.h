// OFF, as text in three dimensions. Source: Geomview manual, "OFF Files".
#pragma once

#include "base/file/mapped_file.h"
#include "base/run_context.h"
#include "mesh/file_mesh.h"

namespace leastwall {

/// Strict: one vertex and one face to a line, each with exactly the numbers that the keyword (OFF,
/// NOFF, COFF, STOFF and their mixtures) and the format allow; as many of them as the counts say,
/// and nothing after them. Faces may have any
/// number of corners; points and lines are left out (notice `points-or-lines`). Throws InputError
/// for all else, OFF in binary or in other than three dimensions included, and for a file that may
/// be cut off in its last number.
FileMesh read_off(const MappedFile& file, const RunContext& run);

} // namespace leastwall
