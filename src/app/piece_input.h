// Reading what a check needs: meshes, and the job file that names them.
#pragma once

#include "app/check_piece.h"
#include "app/run_files.h"

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>

namespace leastwall {

/// One mesh of the piece: its file and how it is read.
struct MeshWanted {
  std::filesystem::path file;
  LoadOptions load;
  LoadedMesh loaded;
};

/// Reads both meshes at once; adds a warning when they are one file. Throws RunError before it
/// reads anything where the files' own counts and the trials of the set-up in `input` show that a
/// check needs more than `memory_limit_bytes` (unset: than is free).
void load_both(MeshWanted& pocket, MeshWanted& skin, CheckInput& input, const RunContext& run,
               std::optional<std::uint64_t> memory_limit_bytes = {});

/// The input that a job file describes, with its meshes read and placed. `files` is told of each
/// file that the job names before a mesh is read. Throws InputError.
CheckInput read_job_input(const std::string& job_file, RunFiles& files, const RunContext& run,
                          std::optional<std::uint64_t> memory_limit_bytes = {});

/// Fills `input.reach` and `input.trial_bytes` from the set-up and the meshes.
void fill_reach(CheckInput& input);

} // namespace leastwall
