// Job text. Meshes need not exist; readings are those beside the sample jobs of the tests.
#include "job/job_digest.h"
#include "job/job_walls.h"
#include "job/read_job.h"
#include "stated_outcome.h"

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <vector>

using namespace leastwall;

namespace {

bool placed_by_finite_numbers(const MeshPlacing& p) {
  return std::isfinite(p.turn_deg) && std::isfinite(p.shift_mm.x) && std::isfinite(p.shift_mm.y) &&
         std::isfinite(p.shift_mm.z);
}

void require_part_makes_sense(const Job& job, std::size_t number) {
  using fuzz::require;
  const Part& part = job.parts[number];
  require(!part.pockets.empty(), "a part has a pocket");
  require(!part.skin.empty(), "the skin is named");
  require(placed_by_finite_numbers(part.placing), "a mesh is placed by finite numbers");
  require(std::isfinite(part.on_board.turn_deg) && std::isfinite(part.on_board.place.x) &&
              std::isfinite(part.on_board.place.y),
          "a part is placed by finite numbers");
  require(part.mirror_of.value_or(0) <= number && part.mirror_of != number,
          "a part mirrors an earlier one");
  for (std::size_t k = 0; k < part.pockets.size(); ++k) {
    const Pocket& pocket = part.pockets[k];
    require(std::isfinite(pocket.limit_mm) && pocket.limit_mm >= 0, "the limit is a length");
    require(!pocket.mesh.empty(), "the pocket is named");
    require(placed_by_finite_numbers(pocket.placing), "a mesh is placed by finite numbers");
    require(!pocket.inside || *pocket.inside < k, "a pocket lies in an earlier one");
  }
  for (const Hole& hole : part.holes)
    require(hole.diameter_mm > 0 && hole.depth_mm > 0 && hole.limit_mm > 0 &&
                std::isfinite(hole.at.x) && std::isfinite(hole.at.y),
            "a hole has a size and a place");
}

/// Every wall lies between two cuts that there are.
void require_walls_make_sense(const Job& job) {
  using fuzz::require;
  constexpr std::size_t kFew = 40; // pairs grow with the square
  std::size_t cuts = 0;
  for (const Part& part : job.parts)
    cuts += part.pockets.size() + part.holes.size();
  if (cuts > kFew)
    return;
  const std::vector<JobWall> walls = walls_of(job, 0);
  require(!walls.empty(), "a job has a wall");
  for (std::size_t w = 0; w < walls.size(); ++w) {
    require(walls[w].part < job.parts.size(), "a wall is of a part");
    require(!(walls[w].inner == walls[w].outer), "a wall lies between two cuts");
    require(!walls[w].same_as || *walls[w].same_as < w, "a wall mirrors an earlier one");
    require(walls[w].limit_mm > 0, "a wall has a limit");
    require(!cut_name(job.parts[walls[w].part], walls[w].inner).empty(), "a cut has a name");
  }
}

void require_sense(const Job& job) {
  using fuzz::require;
  require(!job.parts.empty(), "a job has a part");
  require(job.accepted_chance > 0 && job.accepted_chance < 1, "the accepted chance lies in 0..1");
  require(job.trials > 0 && job.trials <= 100'000'000, "trials can be counted");
  for (std::size_t p = 0; p < job.parts.size(); ++p)
    require_part_makes_sense(job, p);
  require_walls_make_sense(job);
  Job numbers = job; // and no words
  numbers.title.clear();
  numbers.board.species.reset();
  for (Part& part : numbers.parts) {
    part.name.clear();
    part.skin.clear();
    for (Pocket& words : part.pockets) {
      words.name.clear();
      words.mesh.clear();
      words.material.clear();
    }
  }
  const std::string all = test::digest(numbers);
  require(all.find("nan") == all.npos && all.find("inf") == all.npos, "every number is finite");
  for (const std::string& line : lines_of(job.assumptions))
    require(!line.empty() && fuzz::is_plain_line(line), "an assumption is one plain line");
  fuzz::require_plain(job.notices);
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  const JobTextOptions options{"job.toml", LEASTWALL_SOURCE_DIR "/tests/data/jobs", false};
  fuzz::has_answer("", [&] {
    const Job job = parse_job(text, options);
    require_sense(job);
    if (text.starts_with("\xEF\xBB\xBF"))
      return;
    const std::string again = "# the same\n" + std::string(text);
    fuzz::require(test::digest(parse_job(again, options)) == test::digest(job),
                  "a comment in front changes nothing");
  });
  return 0;
}
