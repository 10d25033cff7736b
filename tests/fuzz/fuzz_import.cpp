// fuzz_import RUNS [SEED] [KEEP]: damages OBJ, OFF, 3MF, glTF and COLLADA files and loads
// each, COLLADA through the import process. Whatever that process does (crash, endless loop, any
// amount of memory) must come back as one clear line in time; a mesh that comes back must make
// sense; no process and no file handle may be left. Prints a table of outcomes; SIGTERM ends it
// with the table. Files that crashed or stalled the import are written to the folder KEEP.
// LEASTWALL_IMPORT names the import program.
#include "mesh/load/load_mesh.h"
#include "mesh_sense.h"
#include "mutate.h"
#include "seed_files.h"
#include "stated_outcome.h"
#include "support/temp_dir.h"
#include "support/zip_files.h"

#include <cerrno>
#include <charconv>
#include <chrono>
#include <csignal>
#include <cstdio>
#include <cstring>
#include <map>
#include <sys/wait.h>

using namespace leastwall;
using fuzz::require;

namespace {

constexpr double kTimeLimit_s = 10;
volatile std::sig_atomic_t stop_asked = 0;

struct Tally {
  std::size_t tried = 0, accepted = 0, refused = 0, crashed = 0, stalled = 0;
  double slowest_s = 0;
};

/// The model part of the 3MF seeds can be damaged inside a sound archive; the archive itself else.
std::string damaged_3mf(const std::string& seed, std::mt19937_64& random) {
  if (random() % 3 == 0)
    return fuzz::mutated(seed, random);
  const TriMesh m = test::box_mesh();
  const std::string object = fuzz::mutated(test::threemf_object(m, 1), random);
  const std::string parts = "<object id=\"2\" type=\"model\"><components><component objectid=\"1\" "
                            "transform=\"1 0 0 0 1 0 0 0 1 5 0 0\"/></components></object>";
  const bool grouped = random() % 2 == 0;
  const std::string items = grouped ? "<item objectid=\"2\"/>" : "<item objectid=\"1\"/>";
  test::ZipOptions zip;
  zip.spoil = random() % 8 == 0 ? 6 : 0;
  return test::threemf_file("unit=\"millimeter\"",
                            object + (grouped ? fuzz::mutated(parts, random) : ""),
                            random() % 4 == 0 ? fuzz::mutated(items, random) : items, zip);
}

/// Damage in the JSON of a binary glTF, its lengths put right so that it is looked at.
std::string damaged_glb(const std::string& seed, std::mt19937_64& random) {
  std::uint32_t length = 0;
  std::memcpy(&length, seed.data() + 12, sizeof length);
  std::string json = fuzz::mutated(seed.substr(20, length), random);
  json.resize((json.size() + 3) / 4 * 4, ' ');
  const std::string rest = seed.substr(20 + length);
  std::string out = "glTF";
  test::append_raw(out, std::uint32_t{2});
  test::append_raw(out, static_cast<std::uint32_t>(20 + json.size() + rest.size()));
  test::append_raw(out, static_cast<std::uint32_t>(json.size()));
  return out + "JSON" + json + rest;
}

std::string damaged(const fuzz::SeedFile& seed, const std::string& kind, std::mt19937_64& random) {
  if (kind == ".3mf")
    return damaged_3mf(seed.bytes, random);
  if (kind == ".glb" && random() % 3 != 0)
    return damaged_glb(seed.bytes, random);
  return fuzz::mutated(seed.bytes, random);
}

std::size_t open_handles() {
  std::size_t count = 0;
  for ([[maybe_unused]] const auto& entry : std::filesystem::directory_iterator("/proc/self/fd"))
    ++count;
  return count;
}

/// Loads the file and judges the outcome. True when it is worth keeping.
bool try_one(const std::filesystem::path& file, Tally& tally) {
  LoadOptions options;
  options.import_timeout_s = kTimeLimit_s;
  options.import_memory_bytes = std::uint64_t{2} << 30;
  const auto start = std::chrono::steady_clock::now();
  std::string message;
  bool kept = false;
  ++tally.tried;
  const bool answered = fuzz::has_answer(file.native(), [&] {
    try {
      fuzz::require_sense(load_mesh(file, options, {}));
    } catch (const Error& error) {
      message = error.what();
      throw;
    }
  });
  const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
  tally.slowest_s = std::max(tally.slowest_s, took.count());
  require(took.count() < kTimeLimit_s + 5, "the answer comes in time");
  require(::waitpid(-1, nullptr, WNOHANG) == -1 && errno == ECHILD, "no process is left");
  if (answered) {
    ++tally.accepted;
  } else if (message.find("the import crashed on it") != message.npos) {
    ++tally.crashed;
    kept = true;
  } else if (message.find("the import took longer") != message.npos) {
    ++tally.stalled;
    kept = true;
  } else {
    ++tally.refused;
  }
  return kept;
}

void keep(const std::filesystem::path& file, const std::string& bytes) {
  std::ofstream out(file, std::ios::binary);
  out << bytes;
  require(static_cast<bool>(out.flush()), "the folder KEEP can be written to");
}

std::uint64_t whole_number(const char* text) {
  std::uint64_t value = 0;
  const auto [end, error] = std::from_chars(text, text + std::strlen(text), value);
  require(error == std::errc() && *end == '\0', "RUNS and SEED are whole numbers");
  return value;
}

} // namespace

int main(int argc, char** argv) {
  require(argc >= 2 && argc <= 4, "fuzz_import RUNS [SEED] [KEEP]");
  const std::uint64_t runs = whole_number(argv[1]);
  std::mt19937_64 random(argc > 2 ? whole_number(argv[2]) : 1);
  const test::TempDir folder;
  const std::vector<fuzz::SeedFile> seeds = fuzz::import_seeds();
  std::map<std::string, Tally> tallies;
  std::size_t handles = 0;
  for (const fuzz::SeedFile& seed : seeds) { // undamaged ones are accepted
    Tally ignored;
    try_one(folder.file(seed.name, seed.bytes), ignored);
    require(ignored.accepted == 1, seed.name + " is accepted as it is");
    handles = open_handles();
  }
  std::signal(SIGTERM, [](int) { stop_asked = 1; });
  for (std::uint64_t i = 0; i < runs && stop_asked == 0; ++i) {
    const fuzz::SeedFile& seed = seeds[i % seeds.size()];
    const std::string kind = std::filesystem::path(seed.name).extension().string();
    const std::string bytes = damaged(seed, kind, random);
    const std::filesystem::path file = folder.file("m" + kind, bytes);
    if (argc > 3) // kept while it is tried, in case that we end here
      keep(std::filesystem::path(argv[3]) / ("last" + kind), bytes);
    if (try_one(file, tallies[kind]) && argc > 3)
      keep(std::filesystem::path(argv[3]) / (std::to_string(i) + kind), bytes);
  }
  require(open_handles() == handles, "no file handle is left");
  std::printf("%-6s %8s %9s %8s %8s %8s %8s\n", "kind", "tried", "accepted", "refused", "crashed",
              "stalled", "slowest");
  for (const auto& [kind, t] : tallies)
    std::printf("%-6s %8zu %9zu %8zu %8zu %8zu %7.1fs\n", kind.c_str(), t.tried, t.accepted,
                t.refused, t.crashed, t.stalled, t.slowest_s);
}
