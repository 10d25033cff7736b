// Reading what a check needs: meshes, and the job file that names them.
#pragma once

#include "check/check_job.h"
#include "check/memory_need.h"
#include "job/job.h"

#include <filesystem>
#include <functional>
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
/// check needs more than `memory`.
void load_both(MeshWanted& pocket, MeshWanted& skin, CheckInput& input, const MemoryLimit& memory,
               const RunContext& run);

/// Told of a file that is about to be read; throws where it must not be.
using TellRead = std::function<void(const std::filesystem::path&)>;

/// The input that a job file describes, with its meshes read and placed. `tell` is told of each
/// file that the job names before a mesh is read. Throws InputError.
JobInput read_job_input(const std::string& job_file, const TellRead& tell,
                        const MemoryLimit& memory, const RunContext& run);

/// A job and one pocket of it, which is still to be made or may be changed.
struct JobWithPocket {
  std::string job_file;
  Job job;
  std::vector<JobWall> walls;
  CheckInput common;
  std::vector<LoadedMesh> meshes; ///< placed, each once: skin and pockets of every part; the pocket
                                  ///< that is still to be made is empty
  std::vector<std::string> files; ///< of the meshes
  /// Corners of the meshes as loaded, mm before they are placed; empty where nothing was read.
  std::vector<std::vector<Vec3>> loaded;
  std::size_t part = 0, number = 0; ///< the pocket
  std::size_t mesh = 0;             ///< its mesh, which parts that mirror this one share

  const Part& of() const { return job.parts[part]; }
  const Pocket& pocket() const { return of().pockets[number]; }
  /// The check of this job with another mesh for the pocket, in the model frame.
  JobInput with_pocket(LoadedMesh pocket) const;
};

/// Reads all but the pocket's mesh, which need not be named or be there. Throws InputError where
/// the job has several parts or pockets.
JobWithPocket read_job_to_hollow(const std::string& job_file, const TellRead& tell,
                                 const MemoryLimit& memory, const RunContext& run);

/// Reads all. `name` of the pocket; empty: the job has one only. Throws InputError where there is
/// no pocket, or more than one, that it could be.
JobWithPocket read_job_to_mend(const std::string& job_file, const std::string& name,
                               const TellRead& tell, const MemoryLimit& memory,
                               const RunContext& run);

/// Reads all, for what is poured into the pockets.
JobWithPocket read_job_to_pour(const std::string& job_file, const TellRead& tell,
                               const MemoryLimit& memory, const RunContext& run);

/// Fills `reach` and `trial_bytes` of each wall from its set-up and its meshes. Of pockets and
/// holes beside one another, those so far apart that their boxes show it are left out: no wall is
/// left between them that could count.
void fill_reach(JobInput& job);

} // namespace leastwall
