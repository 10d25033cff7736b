// The common course of a peer: read, build, one distance per skin triangle in parallel, report.
#pragma once

#include "bench/pair.h"

#include <cstdio>
#include <exception>
#include <tbb/blocked_range.h>
#include <tbb/global_control.h>
#include <tbb/parallel_for.h>

namespace bench {

/// `build(call, pocket)` makes what is asked; `ask(built)` makes a function of one thread that
/// gives the distance of a point in mm. Returns the exit status of the program.
template <class Build, class Ask>
int run_peer(int argc, char** argv, const Build& build, const Ask& ask) {
  try {
    const Call call = read_call(argc, argv);
    const tbb::global_control threads(tbb::global_control::max_allowed_parallelism,
                                      static_cast<std::size_t>(thread_count(call)));
    seconds();
    const Mesh pocket = read_mesh(call.pocket, call.top_mm);
    const Mesh skin = read_mesh(call.skin, call.top_mm);
    const double read_s = seconds();
    const auto built = build(call, pocket);
    std::vector<float> distances(skin.triangles.size());
    tbb::parallel_for(tbb::blocked_range<std::size_t>(0, distances.size(), 1024),
                      [&](const tbb::blocked_range<std::size_t>& range) {
                        auto distance = ask(*built);
                        for (std::size_t i = range.begin(); i != range.end(); ++i)
                          distances[i] = static_cast<float>(distance(centre(skin, i)));
                      });
    report(call, read_s, seconds() - read_s, distances);
    return 0;
  } catch (const std::exception& e) {
    std::fprintf(stderr, "%s\n", e.what());
    return 3;
  }
}

} // namespace bench
