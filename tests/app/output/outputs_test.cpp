// Outputs against inputs and against each other: compared by what they are, before anything is
// opened for writing.
#include "app/small_piece.h"

#include <filesystem>
#include <map>
#include <nlohmann/json.hpp>

using namespace leastwall;
using namespace leastwall::test;
namespace fs = std::filesystem;

namespace {

constexpr const char* kJob = R"(limit = 0.8
trials = 300
[board]
thickness = 20
[side_a]
zero = "top"
touch_off = 0.04
[side_b]
zero = "bed"
touch_off = 0.04
[bed]
readings = "bed.csv"
origin = [0, 0]
[[part]]
skin = "skin.ply"
[[part.pocket]]
mesh = "pocket.stl"
)";

constexpr const char* kReadings = "x, y, height\n-60, -60, 0\n60, -60, 0.01\n-60, 60, 0.02\n"
                                  "60, 60, 0.01\n0, 0, 0\n";

std::string obj_with_materials(const TriMesh& m) {
  std::string s = "mtllib some wood.mtl\n";
  for (const Vec3& v : m.vertices)
    s += fmt::format("v {} {} {}\n", v.x, v.y, v.z);
  for (const Tri& t : m.triangles)
    s += fmt::format("f {} {} {}\n", t[0] + 1, t[1] + 1, t[2] + 1);
  return s;
}

/// A folder with a job, everything it names, and the same files by other names.
class Shop {
 public:
  Shop() {
    const TriMesh pocket = shapes::spike({3, -7, -18}, 6, 0);
    const TriMesh skin = shapes::box({-40, -30, -20}, {40, 30, 0});
    folder.file("pocket.stl", binary_stl(pocket));
    folder.file("skin.ply", binary_stl(skin)); // read by what is in it
    folder.file("check.json", kJob);
    folder.file("job.toml", kJob);
    folder.file("bed.csv", kReadings);
    folder.file("pocket.obj", obj_with_materials(pocket));
    folder.file("some wood.mtl", "newmtl wood\n");
    folder.file("sub/keep.txt", "kept");
    fs::create_symlink("job.toml", folder.path() / "link.toml");
    fs::create_hard_link(folder.path() / "pocket.stl", folder.path() / "hard.json");
    fs::create_directory_symlink("sub", folder.path() / "way");
  }
  RunResult run(const std::vector<std::string>& words, RunOptions options = {}) const {
    options.working_folder = folder.path();
    return leastwall_program(words, options);
  }
  /// Every file below, with its bytes.
  std::map<std::string, std::string> contents() const {
    std::map<std::string, std::string> found;
    for (const auto& entry : fs::recursive_directory_iterator(folder.path()))
      found[fs::relative(entry.path(), folder.path()).string()] =
          entry.is_regular_file() ? file_text(entry.path()) : std::string();
    return found;
  }

  TempDir folder;
};

using Words = std::vector<std::string>;

Words quick(const Words& more) {
  Words words = {"check", "--pocket", "pocket.stl", "--skin", "skin.ply", "--limit", "0.8"};
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

} // namespace

TEST_CASE("a folder of reports replaces what an earlier run left, and no one else's files") {
  const SmallPiece piece;
  const std::string folder = (piece.folder.path() / "carving").string();
  fs::create_directory(folder);
  piece.folder.file("carving/skin.ply", "a model of the carver's");
  check_refused(piece.check({"--out", folder}), 2, {"--out", "skin.ply", "name a new folder"});
  CHECK(names_in(folder) == std::vector<std::string>{"skin.ply"});
  CHECK(file_text(fs::path(folder) / "skin.ply") == "a model of the carver's");
  // A report of something else is no report of a run.
  piece.folder.file("carving/check.json", "{\"tool\": \"another\"}");
  check_refused(piece.check({"--out", folder}), 2, {"--out", "no earlier run"});
  const std::string own = (piece.folder.path() / "reports").string();
  CHECK(piece.check({"--out", own}).status == 0);
  const std::string first = file_text(fs::path(own) / "report.html");
  CHECK(piece.check({"--out", own, "--inches"}).status == 0);
  CHECK(file_text(fs::path(own) / "report.html") != first);
}

TEST_CASE("no command writes over what it reads, however that is spelled") {
  const Shop shop;
  fs::create_symlink("no such/../pocket.stl", shop.folder.path() / "loose.json");
  const auto before = shop.contents();
  const std::string here = shop.folder.path().string();
  for (const Words& words : std::vector<Words>{
           quick({"--out", "."}), // skin.ply
           quick({"--out", here}),
           quick({"--json", "pocket.stl"}),
           quick({"--json", "sub/../pocket.stl"}),
           quick({"--json", "way/../pocket.stl"}),
           quick({"--json", here + "//pocket.stl"}),
           quick({"--json", "no such/../pocket.stl"}),
           quick({"--heatmap", "no such/../skin.ply"}),
           quick({"--json", "loose.json"}), // a link by such a way
           {"bed", "bed.csv", "--map", "no such/further/../../bed.csv"},
           quick({"--json", "hard.json"}), // the pocket by another name
           {"check", "check.json", "--out", "."},
           {"check", "job.toml", "--json", "job.toml"},
           {"check", "job.toml", "--json", "link.toml"},
           {"check", "link.toml", "--json", "job.toml"},
           {"check", "job.toml", "--json", "bed.csv"},
           {"check", "job.toml", "--heatmap", "skin.ply"},
           {"check", "job.toml", "--sheet", "pocket.stl"},
           {"check", "--pocket", "pocket.obj", "--skin", "skin.ply", "--limit", "0.8", "--json",
            "some wood.mtl"},
           {"bed", "bed.csv", "--json", "bed.csv"},
           {"bed", "bed.csv", "--map", "./bed.csv"},
           {"bed", "--job", "job.toml", "--json", "job.toml"},
           {"bed", "--job", "job.toml", "--map", "pocket.stl"},
           {"bed", "--job", "job.toml", "--json", "bed.csv"},
           {"bed", "bed.csv", "--job", "job.toml", "--json", "skin.ply"},
       }) {
    CAPTURE(words);
    check_refused(shop.run(words), 2, {"that file is read by this run; name another"});
    CHECK(shop.contents() == before);
  }
}

TEST_CASE("the buffer of a glTF is an input too, also by its coded name") {
  const Shop shop;
  for (const char* uri : {"my buffer.bin", "my%20buffer.bin", "my\\u0020buffer.bin"}) {
    shop.folder.file("my buffer.bin", std::string(36, '\0'));
    shop.folder.file("pocket.gltf",
                     fmt::format(R"({{"asset":{{"version":"2.0"}},"buffers":[{{"byteLength":36,)"
                                 R"("uri" : "{}"}}]}})",
                                 uri));
    const auto before = shop.contents();
    check_refused(shop.run({"check", "--pocket", "pocket.gltf", "--skin", "skin.ply", "--limit",
                            "0.8", "--json", "my buffer.bin"}),
                  2, {"--json my buffer.bin", "is read by this run"});
    CHECK(shop.contents() == before);
  }
}

TEST_CASE("two outputs never go to one file") {
  const Shop shop;
  const auto before = shop.contents();
  for (const Words& words : std::vector<Words>{
           quick({"--json", "new", "--heatmap", "new"}),
           quick({"--json", "sub/new", "--heatmap", "way/new"}),
           quick({"--json", "sub/new", "--heatmap", "sub/../sub/new"}),
           quick({"--json", "keep", "--heatmap", "sub/../keep"}),
           quick({"--json", "sub/keep.txt", "--heatmap", "way/keep.txt"}),
           quick({"--json", "sub/check.json", "--out", "way"}),
           quick({"--json", "out/check.json", "--out", "out"}), // a folder that is not there yet
           quick({"--heatmap", "sub/../out/wall.png", "--out", "out/"}),
           {"bed", "bed.csv", "--json", "new", "--map", "./new"},
       }) {
    CAPTURE(words);
    check_refused(shop.run(words), 2, {"that file is written by --", "name another"});
    CHECK(shop.contents() == before);
  }
  // Beside each other they are two.
  CHECK(shop.run(quick({"--json", "sub/new", "--heatmap", "new", "--out", "out"})).status == 0);
}

TEST_CASE("standard output is an output like any other") {
  const Shop shop;
  for (const Words& words : std::vector<Words>{quick({"--json", "-", "--heatmap", "/dev/stdout"}),
                                               quick({"--json", "/dev/stdout"}),
                                               {"bed", "bed.csv", "--json", "/dev/fd/1"}})
    check_refused(shop.run(words), 2, {"standard output, which takes the"});
  // Nothing else goes there.
  const RunResult alone = shop.run(quick({"--quiet", "--json", "/dev/stdout"}));
  CHECK(alone.status == 0);
  CHECK(nlohmann::json::parse(alone.out)["verdict"] == "safe");
  // A file that stdout was sent to.
  const std::string log = (shop.folder.path() / "log").string();
  CHECK(shop.run(quick({"--json", "log"}), {.stdout_to = log}).status == 2);
  CHECK(file_text(log).empty());
  // /dev/null takes everything.
  CHECK(
      shop.run(quick({"--json", "/dev/null", "--heatmap", "/dev/null"}), {.stdout_to = "/dev/null"})
          .status == 0);
}

TEST_CASE("an empty name is none, and - is stdout or nothing") {
  const Shop shop;
  const auto before = shop.contents();
  for (const char* option : {"--json", "--heatmap", "--sheet", "--card", "--out"}) {
    CAPTURE(option);
    for (const char* name : {"", " "}) {
      check_refused(shop.run({"check", "job.toml", option, name}), 2, {option, "empty"});
      check_refused(shop.run({"check", "job.toml", fmt::format("{}={}", option, name)}), 2,
                    {option});
    }
    if (option != std::string("--json"))
      check_refused(shop.run({"check", "job.toml", option, "-"}), 2, {option, "name"});
  }
  check_refused(shop.run({"bed", "bed.csv", "--json", ""}), 2, {"--json", "empty"});
  check_refused(shop.run({"bed", "bed.csv", "--map", ""}), 2, {"--map", "empty"});
  check_refused(shop.run({"bed", "bed.csv", "--map", "-"}), 2, {"--map"});
  check_refused(shop.run({"start", ""}), 2, {"empty"});
  check_refused(shop.run({"start", "-"}), 2, {"./-"});
  CHECK(shop.contents() == before);
  CHECK(nlohmann::json::parse(shop.run(quick({"--json", "-"})).out)["verdict"] == "safe");
  CHECK(shop.contents() == before);
}

TEST_CASE("an ending that promises another format is refused") {
  const Shop shop;
  const auto before = shop.contents();
  check_refused(shop.run(quick({"--heatmap", "wall.jpg"})), 2, {"wall.jpg", "PNG", ".png"});
  check_refused(shop.run(quick({"--heatmap", "wall.PDF"})), 2, {"wall.PDF", "PNG", ".png"});
  check_refused(shop.run({"check", "job.toml", "--sheet", "sheet.png"}), 2, {"sheet.png", ".pdf"});
  check_refused(shop.run({"check", "job.toml", "--card", "card.png"}), 2, {"card.png", ".pdf"});
  check_refused(shop.run(quick({"--json", "result.html"})), 2, {"result.html", ".json"});
  check_refused(shop.run({"bed", "bed.csv", "--map", "bed.jpeg"}), 2, {"bed.jpeg", ".png"});
  CHECK(shop.contents() == before);
  CHECK(shop.run(quick({"--heatmap", "wall.PNG", "--json", "result.txt"})).status == 0);
}

TEST_CASE("a link whose file is not there is followed, one in a circle refused") {
  const Shop shop;
  const fs::path at = shop.folder.path();
  fs::create_symlink("sub/real", at / "loose.json");
  fs::create_symlink("loose.json", at / "looser.json");
  check_refused(shop.run(quick({"--json", "looser.json", "--heatmap", "sub/real"})), 2,
                {"is written by --json"});
  CHECK(shop.run(quick({"--json", "looser.json"})).status == 0);
  CHECK(fs::is_symlink(at / "looser.json"));
  CHECK(fs::is_symlink(at / "loose.json"));
  CHECK(nlohmann::json::parse(file_text(at / "sub/real"))["verdict"] == "safe");
  fs::create_symlink("b.json", at / "a.json");
  fs::create_symlink("a.json", at / "b.json");
  check_refused(shop.run(quick({"--json", "a.json"})), 2, {"a.json", "circle"});
  fs::create_directory_symlink("no such folder", at / "nowhere");
  check_refused(shop.run(quick({"--out", "nowhere"})), 2, {"nowhere"});
  CHECK(fs::is_symlink(at / "a.json"));
  CHECK(fs::is_symlink(at / "nowhere"));
  // `start` writes over nothing, not even over such a link.
  fs::create_symlink("elsewhere.toml", at / "sub" / "leaf.toml");
  check_refused(shop.run({"start", "sub", "--piece", "leaf"}), 2, {"exists already"});
  CHECK_FALSE(fs::exists(at / "sub" / "elsewhere.toml"));
}

TEST_CASE("a mesh, a job or readings of another piece are not replaced by a report") {
  const Shop shop;
  for (const char* name : {"other.stl", "other.PLY", "other.toml", "other.csv", "other.vdb"})
    shop.folder.file(name, "hours of work");
  const auto before = shop.contents();
  check_refused(shop.run({"check", "job.toml", "--card", "other.stl"}), 2,
                {"--card", "other.stl", "name a new file"});
  check_refused(shop.run(quick({"--heatmap", "other.PLY"})), 2, {"--heatmap", "other.PLY"});
  check_refused(shop.run(quick({"--json", "other.toml"})), 2, {"--json", "other.toml"});
  check_refused(shop.run(quick({"--json", "no such/../other.toml"})), 2, {"name a new file"});
  check_refused(shop.run({"bed", "bed.csv", "--map", "other.csv"}), 2, {"--map", "other.csv"});
  check_refused(shop.run({"bed", "bed.csv", "--json", "other.vdb"}), 2, {"--json", "other.vdb"});
  CHECK(shop.contents() == before);
  CHECK(shop.run(quick({"--json", "new.csv"})).status == 0); // no one's work is there
}
