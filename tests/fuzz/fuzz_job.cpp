// Job text. Meshes need not exist; readings are those beside the sample jobs of the tests.
#include "job/job_digest.h"
#include "job/read_job.h"
#include "stated_outcome.h"

#include <cmath>
#include <cstdint>

using namespace leastwall;

namespace {

void require_sense(const Job& job) {
  using fuzz::require;
  require(job.parts.size() == 1, "one part");
  require(job.parts[0].pockets.size() == 1, "one pocket");
  require(job.accepted_chance > 0 && job.accepted_chance < 1, "the accepted chance lies in 0..1");
  require(job.trials > 0 && job.trials <= 100'000'000, "trials can be counted");
  const Pocket& pocket = job.parts[0].pockets[0];
  require(std::isfinite(pocket.limit_mm) && pocket.limit_mm >= 0, "the limit is a length");
  require(!pocket.mesh.empty() && !job.parts[0].skin.empty(), "the meshes are named");
  for (const MeshPlacing& p : {job.parts[0].placing, pocket.placing})
    require(std::isfinite(p.turn_deg) && std::isfinite(p.shift_mm.x) &&
                std::isfinite(p.shift_mm.y) && std::isfinite(p.shift_mm.z),
            "a mesh is placed by finite numbers");
  Job numbers = job; // and no words
  numbers.title.clear();
  numbers.board.species.reset();
  numbers.parts[0].name.clear();
  numbers.parts[0].skin.clear();
  Pocket& words = numbers.parts[0].pockets[0];
  words.name.clear();
  words.mesh.clear();
  words.material.clear();
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
