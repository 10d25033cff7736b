// Jobs of several walls with meshes in a folder of their own.
#pragma once

#include "base/errors.h"
#include "check/check_job.h"
#include "check/piece_input.h"
#include "support/mesh_files.h"
#include "support/shapes.h"
#include "support/temp_dir.h"

#include <fstream>
#include <string>

namespace leastwall::test {

/// Meshes and a job in a folder of their own.
struct Folder {
  TempDir dir;

  void mesh(const std::string& name, const TriMesh& mesh) const {
    dir.file(name, binary_stl(mesh));
  }

  JobInput input(const std::string& text) const {
    const auto file = dir.path() / "job.toml";
    std::ofstream(file) << text;
    JobInput job = read_job_input(file.string(), [](const std::filesystem::path&) {}, {}, {});
    fill_reach(job);
    return job;
  }

  /// What is said after the name of the job file, ":LINE: ..."; "accepted" where nothing is.
  std::string refusal(const std::string& text) const {
    try {
      input(text);
    } catch (const InputError& error) {
      const std::string what = error.what();
      return what.substr(what.find("job.toml") + 8);
    }
    return "accepted";
  }

  JobResult checked(const std::string& text) const { return check_job(input(text), {}); }
};

inline const std::string kBoard = R"(
units = "mm"
trials = 2000
[board]
thickness = 40
corner = [-150, -150]
size = [300, 300]
[side_a]
zero = "top"
touch_point = [-140, 140]
touch_off = 0.03
[side_b]
zero = "bed"
touch_point = [-140, 140]
touch_off = 0.03
[bed]
flatness = 0.02
)";

/// A box of wood, a pocket 1.2 mm inside it all round, and one 3 mm inside that in its resin.
struct Boxes : Folder {
  Boxes() {
    mesh("skin.stl", shapes::box({-40, -30, -20}, {40, 30, 0}));
    mesh("room.stl", shapes::box({-38.8, -28.8, -18.8}, {38.8, 28.8, 0}));
    mesh("ember.stl", shapes::box({-35.8, -25.8, -15.8}, {35.8, 25.8, 0}));
  }
};

inline const std::string kNested = R"(
[[part]]
name = "left"
place = [0, 60]
skin = "skin.stl"
[part.placing]
units = "mm"
[[part.pocket]]
name = "room"
mesh = "room.stl"
limit = 0.5
material = "amber resin"
[[part.pocket]]
name = "ember"
inside = "room"
mesh = "ember.stl"
limit = 2
[part.pocket.side_a]
zero = "top"
)";

inline const std::string kMirror = R"(
[[part]]
name = "right"
mirror_of = "left"
place = [0, -60]
)";

} // namespace leastwall::test
