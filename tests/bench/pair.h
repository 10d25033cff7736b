// What every bench program shares: read a pair of meshes the plain way, say what came out.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <vector>

namespace bench {

using Point = std::array<float, 3>;

struct Mesh {
  std::vector<Point> points;
  std::vector<std::array<std::uint32_t, 3>> triangles;
};

/// The call: POCKET SKIN [--top Z] [--threads N] [--voxel MM] [--band MM] [--distances FILE]
struct Call {
  std::string pocket, skin;
  double top_mm = 1e30;   ///< facets wholly at or above this z are lids and are left out
  int threads = 0;        ///< 0: all cores
  double voxel_mm = 0.25; ///< field only
  double band_mm = 1.0;   ///< field only
  std::string distances;  ///< where to write every distance as float32, empty: nowhere
};

/// Reads the command line; prints what is wrong and exits with 2.
Call read_call(int argc, char** argv);

/// One file by Assimp without post-processing, its facets that have three corners and are not lids.
/// Throws std::runtime_error.
Mesh read_mesh(const std::string& path, double top_mm);

/// Centre of triangle i.
Point centre(const Mesh& mesh, std::size_t i);

/// Seconds since the first call.
double seconds();

/// Prints {read_s, work_s, least_mm, threads} as JSON and writes the distances if asked.
void report(const Call& call, double read_s, double work_s, const std::vector<float>& distances_mm);

/// Threads that a run will use.
int thread_count(const Call& call);

} // namespace bench
