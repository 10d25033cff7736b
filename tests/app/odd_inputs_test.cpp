// Inputs that hurt other programs, given to the whole program: each has a stated outcome.
#include "app/small_piece.h"
#include "support/ply_files.h"
#include "support/zip_files.h"

#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>
#include <sstream>
#include <sys/stat.h>

using namespace leastwall;
using namespace leastwall::test;

namespace {

/// Text formats of the same mesh.
std::string obj_text(const TriMesh& m) {
  std::string s;
  for (const Vec3& v : m.vertices)
    s += fmt::format("v {} {} {}\n", v.x, v.y, v.z);
  for (const Tri& t : m.triangles)
    s += fmt::format("f {} {} {}\n", t[0] + 1, t[1] + 1, t[2] + 1);
  return s;
}

std::string off_text(const TriMesh& m) {
  std::string s = fmt::format("OFF\n{} {} 0\n", m.vertices.size(), m.triangles.size());
  for (const Vec3& v : m.vertices)
    s += fmt::format("{} {} {}\n", v.x, v.y, v.z);
  for (const Tri& t : m.triangles)
    s += fmt::format("3 {} {} {}\n", t[0], t[1], t[2]);
  return s;
}

const TriMesh kPocket = shapes::spike({3, -7, -18.5}, 6.25, 0);
const TriMesh kSkin = shapes::box({-40.5, -30.5, -20.25}, {40.5, 30.5, 0});

nlohmann::json result_of(const std::filesystem::path& pocket, const std::filesystem::path& skin,
                         const RunOptions& options = {}) {
  const RunResult r = leastwall_program({"check", "--pocket", pocket.string(), "--skin",
                                         skin.string(), "--limit", "0.8", "--json", "-"},
                                        options);
  INFO(r.err);
  REQUIRE((r.status == 0 || r.status == 1));
  return nlohmann::json::parse(r.out);
}

std::vector<std::string> codes(const nlohmann::json& result) {
  std::vector<std::string> found;
  for (const auto& warning : result.at("warnings"))
    found.push_back(warning.at("code"));
  return found;
}

bool warns(const nlohmann::json& result, const std::string& code) {
  const auto found = codes(result);
  return std::find(found.begin(), found.end(), code) != found.end();
}

} // namespace

// Readers that follow the locale take "0.8" for 0 where the decimal mark is a comma.
TEST_CASE("a locale with decimal commas changes no byte, whatever the format") {
  const TempDir folder;
  const std::string locale = (folder.path() / "de_DE.UTF-8").string();
  const RunResult made =
      run_program({"localedef", "-i", "de_DE", "-f", "UTF-8", "--no-archive", locale});
  if (!std::filesystem::exists(locale + "/LC_NUMERIC"))
    MESSAGE("SKIPPED in part: no German locale could be made (package locales): " << made.err);
  const std::filesystem::path skin = folder.file("skin.stl", binary_stl(kSkin));
  const std::vector<std::filesystem::path> pockets = {
      folder.file("binary.stl", binary_stl(kPocket)),
      folder.file("text.stl", ascii_stl(kPocket)),
      folder.file("p.ply", ply_file(kPocket)),
      folder.file("p.obj", obj_text(kPocket)),
      folder.file("p.off", off_text(kPocket)),
      folder.file("p.3mf", threemf_file("unit=\"millimeter\"", threemf_object(kPocket, 1),
                                        "<item objectid=\"1\"/>"))};
  for (const std::filesystem::path& pocket : pockets) {
    CAPTURE(pocket.filename().string());
    std::string bytes[2];
    for (const int german : {0, 1}) {
      const std::filesystem::path out = folder.path() / "out";
      const RunResult r = leastwall_program(
          {"check", "--pocket", pocket.string(), "--skin", skin.string(), "--limit", "0.8",
           "--z-zero", "0.05", "--threads", "2", "--out", out.string()},
          {.environment = {"LOCPATH=" + folder.path().string(),
                           german ? "LC_ALL=de_DE.UTF-8" : "LC_ALL=C"}});
      INFO(r.err);
      CHECK(r.status == 0);
      bytes[german] = r.out;
      for (const std::string& name : names_in(out))
        bytes[german] += name + file_text(out / name);
      std::filesystem::remove_all(out);
    }
    CHECK(bytes[0].size() > 10000);
    CHECK((bytes[0] == bytes[1]));
    // 1.75 mm below the tip: by construction.
    CHECK(result_of(pocket, skin)["least_wall"]["design_mm"].get<double>() ==
          doctest::Approx(1.75));
  }
}

// Facets of half a millimetre in a file of metres: absolute tolerances would drop them all.
TEST_CASE("metres: nothing is dropped, and the unit is proposed, never applied") {
  const TempDir folder;
  const auto sheet = [](double z) {
    return sheet_mesh(40, 20, [z](double x, double y) { return z + 0.01 * x + 0.02 * y; });
  };
  const auto pocket = folder.file("p.stl", binary_stl(shapes::scaled(sheet(-4), 0.001)));
  const auto skin = folder.file("s.stl", binary_stl(sheet(-9)));
  const nlohmann::json mixed = result_of(pocket, skin);
  CHECK(mixed["meshes"]["pocket"]["triangles"] == 3200);
  CHECK(warns(mixed, "pocket-unit"));
}

TEST_CASE("each likely mistake is told with its fix and the numbers stay as they are") {
  const TempDir folder;
  const TriMesh pocket_mesh = shapes::box({5, -20, -15}, {35, 20, 0});
  const auto write = [&](const char* name, TriMesh mesh, const auto& change) {
    for (Vec3& v : mesh.vertices)
      v = change(v);
    return folder.file(name, binary_stl(mesh));
  };
  const auto same = [](Vec3 v) { return v; };
  struct Slip {
    const char* code;
    Vec3 (*pocket)(Vec3);
    Vec3 (*skin)(Vec3);
    const char* words;
  };
  const auto keep = [](Vec3 v) { return v; };
  const Slip slips[] = {
      {"pocket-unit", [](Vec3 v) { return v / 25.4; }, keep, "inches"},
      {"skin-unit", keep, [](Vec3 v) { return v / 25.4; }, "inches"},
      {"pocket-mirrored",
       [](Vec3 v) {
         return Vec3{-v.x, v.y, v.z};
       },
       [](Vec3 v) {
         return Vec3{v.x + 40, v.y, v.z};
       },
       "mirrored"},
  };
  for (const Slip& slip : slips) {
    CAPTURE(slip.code);
    const auto pocket = write("p.stl", pocket_mesh, slip.pocket);
    const auto skin = write("s.stl", shapes::box({-40, -30, -20}, {40, 30, 0}), slip.skin);
    const RunResult r = leastwall_program({"check", "--pocket", pocket.string(), "--skin",
                                           skin.string(), "--limit", "0.8", "--json", "-"});
    // Where nothing is left to measure it refuses; else it measures what it was given.
    if (r.status == 2) {
      CHECK(std::count(r.err.begin(), r.err.end(), '\n') == 1);
      continue;
    }
    INFO(r.err);
    REQUIRE((r.status == 0 || r.status == 1));
    const nlohmann::json result = nlohmann::json::parse(r.out);
    CHECK(warns(result, slip.code));
    CHECK(has(r.out, slip.words));
  }
  // And the pair that is right says nothing of the kind.
  const nlohmann::json right =
      result_of(write("p.stl", pocket_mesh, same), folder.file("s.stl", binary_stl(kSkin)));
  for (const Slip& slip : slips)
    CHECK_FALSE(warns(right, slip.code));
}

// Two shells that pass through each other are one body; their outer surface counts.
TEST_CASE("overlapping shells and a body that crosses itself are measured as they cut") {
  const TempDir folder;
  TriMesh two = shapes::box({-20, -20, -18}, {5, 20, 0});
  const TriMesh other = shapes::box({-5, -15, -18.5}, {20, 15, 0});
  const auto first = static_cast<std::uint32_t>(two.vertices.size());
  two.vertices.insert(two.vertices.end(), other.vertices.begin(), other.vertices.end());
  for (const Tri& t : other.triangles)
    two.triangles.push_back({t[0] + first, t[1] + first, t[2] + first});
  const auto skin = folder.file("s.stl", binary_stl(kSkin));
  // Floors at -18.5 and a skin at -20.25: by construction.
  nlohmann::json r = result_of(folder.file("two.stl", binary_stl(two)), skin);
  CHECK(r["least_wall"]["design_mm"].get<double>() == doctest::Approx(1.75).epsilon(0.001));
  for (Tri& t : two.triangles) // one of the shells inside out as well
    if (t[0] >= first)
      std::swap(t[0], t[1]);
  r = result_of(folder.file("turned.stl", binary_stl(two)), skin);
  CHECK(r["least_wall"]["design_mm"].get<double>() == doctest::Approx(1.75).epsilon(0.001));
}

TEST_CASE("names with blanks, quotes, letters beyond ASCII and line ends") {
  const TempDir folder;
  for (const std::string name : {"pocket left half", "K\xc3\xbcrbis \xe5\x86\x85", "it's \"half\"",
                                 "two\nlines", "tab\there", "-dash", "%s%n", "bad\xff\xfe utf"}) {
    CAPTURE(name);
    const auto pocket = folder.file(name + ".stl", binary_stl(kPocket));
    const auto object = folder.file(name + ".obj", obj_text(kPocket));
    const auto skin = folder.file("skin " + name + ".stl", binary_stl(kSkin));
    for (const auto& file : {pocket, object})
      CHECK(result_of(file, skin)["verdict"] == "safe");
    // A refusal that names such a file is still one line.
    const auto cut = folder.file("cut " + name + ".stl", binary_stl(kPocket).substr(0, 200));
    check_refused(leastwall_program({"check", "--pocket", cut.string(), "--skin", skin.string(),
                                     "--limit", "0.8"}),
                  2, {"room for"});
  }
}

TEST_CASE("a pipe, a device or a folder for a mesh is refused at once") {
  const SmallPiece piece;
  const std::filesystem::path pipe = piece.folder.path() / "pipe.stl";
  REQUIRE(::mkfifo(pipe.c_str(), 0600) == 0);
  for (const std::string& file :
       {pipe.string(), std::string("/dev/zero"), piece.folder.path().string()}) {
    CAPTURE(file);
    const RunResult r = leastwall_program(
        {"check", "--pocket", file, "--skin", piece.skin.string(), "--limit", "0.8"});
    check_refused(r, 2, {"not a regular file"});
    CHECK(r.seconds < 20);
  }
}

TEST_CASE("OBJ with faces of no or two corners, points and lines") {
  const TempDir folder;
  const auto skin = folder.file("s.stl", binary_stl(kSkin));
  for (const std::string extra : {"f\n", "f 1\n", "f 1 2\n", "p 1\n", "l 1 2\n", "f 1 2 3 #\n"}) {
    CAPTURE(extra);
    const auto pocket = folder.file("p.obj", obj_text(kPocket) + extra);
    const RunResult r = leastwall_program({"check", "--pocket", pocket.string(), "--skin",
                                           skin.string(), "--limit", "0.8", "--json", "-"});
    INFO(r.err);
    // The surface is whole: it is measured, or the file refused; never something in between.
    if (r.status == 2)
      CHECK(std::count(r.err.begin(), r.err.end(), '\n') == 1);
    else
      CHECK(nlohmann::json::parse(r.out)["least_wall"]["design_mm"].get<double>() ==
            doctest::Approx(1.75));
  }
  for (const std::string only : {"p 1 2 3\n", "l 1 2 3\n", ""})
    check_refused(
        leastwall_program({"check", "--pocket",
                           folder.file("o.obj", "v 0 0 0\nv 1 0 0\nv 0 1 0\n" + only).string(),
                           "--skin", skin.string(), "--limit", "0.8"}),
        2, {"o.obj"});
}

// IEEE Std 1003.1, "Shell Command Language", 2.2.2: all but a single quote stands for itself
// between single quotes.
TEST_CASE("start: the command that it names next can be typed as it stands") {
  const TempDir dir;
  const std::string folder = (dir.path() / "the artist's $HOME piece").string();
  const RunResult made = leastwall_program({"start", folder});
  REQUIRE(made.status == 0);
  const std::size_t at = made.out.find("  leastwall check ");
  REQUIRE(at != std::string::npos);
  const std::size_t from = at + std::string("  leastwall check").size();
  const std::string words = made.out.substr(from, made.out.find('\n', from) - from);
  const RunResult said = run_program({"/bin/sh", "-c", "printf '%s' " + words});
  CHECK(said.out == folder + "/gourd.toml");
  CHECK(std::filesystem::exists(said.out));
  const std::string plain = (dir.path() / "piece").string();
  CHECK(leastwall_program({"start", plain}).out.find("check " + plain + "/gourd.toml\n") !=
        std::string::npos);
}

// A general importer leaves out the face of twelve corners without a word: it would be safe, 3 mm.
TEST_CASE("a floor of twelve corners over a bump: the same wall in every format") {
  const TempDir folder;
  // The skin's bump reaches to 0.3 mm under the middle of the floor, 3 mm under its corners.
  const auto skin = folder.file("s.stl", binary_stl(sheet_mesh(40, 80, [](double x, double y) {
                                  return -20 + std::max(0.0, 2.7 - std::hypot(x - 40, y - 40));
                                })));
  std::string vertices, sides, floor = "12", lid = "12";
  TriMesh triangles;
  for (std::uint32_t i = 0; i < 24; ++i) {
    const double angle = (i % 12) * std::numbers::pi / 6;
    const Vec3 v{40 + 6 * std::cos(angle), 40 + 6 * std::sin(angle), i < 12 ? -17.0 : 0.0};
    triangles.vertices.push_back(v);
    vertices += fmt::format("{} {} {}\n", v.x, v.y, v.z);
  }
  for (std::uint32_t i = 0; i < 12; ++i) {
    const std::uint32_t next = (i + 1) % 12;
    sides += fmt::format("4 {} {} {} {}\n", i, next, 12 + next, 12 + i);
    floor += fmt::format(" {}", 11 - i);
    lid += fmt::format(" {}", 12 + i);
    triangles.triangles.push_back({i, next, 12 + next});
    triangles.triangles.push_back({i, 12 + next, 12 + i});
    if (i > 1) {
      triangles.triangles.push_back({0, i, i - 1});
      triangles.triangles.push_back({12, 11 + i, 12 + i});
    }
  }
  const std::string faces = sides + floor + "\n" + lid + "\n";
  std::string obj, word;
  for (std::istringstream lines(vertices); std::getline(lines, word);)
    obj += "v " + word + "\n";
  for (std::istringstream lines(faces); std::getline(lines, word);) {
    std::istringstream numbers(word);
    std::uint32_t corners = 0, at = 0;
    numbers >> corners;
    obj += "f";
    while (numbers >> at)
      obj += fmt::format(" {}", at + 1);
    obj += "\n";
  }
  for (const auto& pocket :
       {folder.file("p.stl", binary_stl(triangles)),
        folder.file("p.off", "OFF\n24 14 0\n" + vertices + faces), folder.file("p.obj", obj)}) {
    CAPTURE(pocket.filename().string());
    const auto result = result_of(pocket, skin);
    CHECK(result["verdict"] == "thin");
    CHECK(result["least_wall"]["design_mm"].get<double>() == doctest::Approx(0.3).epsilon(1e-4));
  }
}

TEST_CASE("pocket and skin both broken: the pocket is told, whichever is found first") {
  const TempDir folder;
  // The pocket's fault stands at the end of a long file, the skin's at the start of a short one.
  const TriMesh sheet = sheet_mesh(120, 80, [](double x, double y) { return x * y * 0.01; });
  const auto pocket = folder.file("long.obj", obj_text(sheet) + "f 1 2 x\n");
  const auto skin = folder.file("short.obj", "v 0 0 x\n");
  for (const char* threads : {"1", "2", "2", "2"})
    check_refused(leastwall_program({"check", "--pocket", pocket.string(), "--skin", skin.string(),
                                     "--limit", "0.8", "--threads", threads}),
                  2, {"long.obj"});
  check_refused(leastwall_program({"check", "--pocket", skin.string(), "--skin", pocket.string(),
                                   "--limit", "0.8", "--threads", "2"}),
                2, {"short.obj"});
}

TEST_CASE("a shift beyond any workpiece, and a mesh that a shift takes too far: the job's line") {
  const SmallPiece piece;
  const auto job = [&](const std::string& skin, const std::string& shift) {
    return piece.folder.file("job.toml", fmt::format("limit = 0.8\n"
                                                     "[board]\nthickness = 30\n"
                                                     "[side_a]\nzero = \"top\"\ntouch_off = 0.05\n"
                                                     "[side_b]\nzero = \"top\"\ntouch_off = 0.05\n"
                                                     "[[part]]\nskin = \"{}\"\n"
                                                     "[part.placing]\nshift = {}\n"
                                                     "[[part.pocket]]\nmesh = \"pocket.stl\"\n",
                                                     skin, shift));
  };
  for (const std::string shift : {"[0, 0, -1e308]", "[1e9, 0, 0]", "[0, 100001, 0]"}) {
    const RunResult r = leastwall_program({"check", job("skin.stl", shift).string()});
    check_refused(r, 2, {"job.toml:13: part.placing.shift = ", "is out of range"});
  }
  // At the far end of what may be read, and 100 m beyond.
  TriMesh far = shapes::box({-40, -30, -20}, {40, 30, 0});
  for (Vec3& v : far.vertices)
    v.x += 1e8 - 50;
  piece.folder.file("far.ply", ply_file(far));
  const RunResult r = leastwall_program({"check", job("far.ply", "[1000, 0, 0]").string()});
  check_refused(r, 2, {"job.toml:13: as placed, the coordinates of ", "far.ply", "reach 1e+08 mm"});
}

// Each of them once ran for minutes or filled the memory; walls that were not proven are not safe.
TEST_CASE("a pocket many times larger than the skin ends soon, unproven") {
  const TempDir folder;
  const auto sheet = [](double z, double size) {
    return binary_stl(shapes::scaled(
        sheet_mesh(80, 100, [z](double x, double y) { return z - 1e-3 * (x * x + y * y); }), size));
  };
  const std::filesystem::path skin = folder.file("skin.stl", sheet(-5, 1));
  for (const double size : {25.4, 1000.0}) {
    const nlohmann::json r = result_of(folder.file("pocket.stl", sheet(-3, size)), skin);
    CHECK(r["verdict"] == "unproven");
  }
}
