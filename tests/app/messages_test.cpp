// One clear line for what people often get wrong; what can be understood is taken.
#include "app/small_piece.h"

#include <nlohmann/json.hpp>
#include <sys/stat.h>

using namespace leastwall;
using namespace leastwall::test;
using Json = nlohmann::json;

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
flatness = 0.1
[[part]]
skin = "skin.stl"
[[part.pocket]]
mesh = "pocket.stl"
)";

std::string with(std::string text, const std::string& from, const std::string& to) {
  const auto at = text.find(from);
  REQUIRE(at != text.npos);
  return text.replace(at, from.size(), to);
}

std::string utf16(const std::string& text) {
  std::string wide = "\xff\xfe";
  for (const char c : text) {
    wide += c;
    wide += '\0';
  }
  return wide;
}

} // namespace

TEST_CASE("without words the program prints its help, and no script takes it for safe") {
  const RunResult r = leastwall_program({});
  CHECK(r.status == 2);
  CHECK(r.err.empty());
  CHECK(r.out == leastwall_program({"--help"}).out);
  CHECK(has(r.out, "check"));
}

TEST_CASE("an option that is not known: the nearest one") {
  const SmallPiece piece;
  const auto says = [](const RunResult& r, const std::string& line) {
    CHECK(r.status == 2);
    CHECK(r.err == line);
  };
  says(piece.check({"--heatmp", "x.png"}),
       "leastwall: there is no option \"--heatmp\" (did you mean \"--heatmap\"?); see leastwall "
       "check --help\n");
  says(piece.check({"--limt=0.8"}),
       "leastwall: there is no option \"--limt\" (did you mean \"--limit\"?); see leastwall check "
       "--help\n");
  says(leastwall_program({"bed", "x.csv", "--part-orgin", "1", "2"}),
       "leastwall: there is no option \"--part-orgin\" (did you mean \"--part-origin\"?); see "
       "leastwall bed --help\n");
  says(leastwall_program({"--verison"}),
       "leastwall: there is no option \"--verison\" (did you mean \"--version\"?); see leastwall "
       "--help\n");
  check_refused(leastwall_program({"start", "x", "--frobnicate"}), 2,
                {"no option \"--frobnicate\"; see leastwall start --help"});
}

TEST_CASE("lengths with a comma or as a fraction, words with capitals are taken") {
  const SmallPiece piece;
  const auto limit = [&](const char* text) {
    const RunResult r = leastwall_program({"check", "--pocket", piece.pocket.string(), "--skin",
                                           piece.skin.string(), "--limit", text, "--json", "-"});
    INFO(r.err);
    REQUIRE(r.status == 0);
    return Json::parse(r.out)["limit_mm"].get<double>();
  };
  CHECK(limit("0,8") == 0.8);
  CHECK(limit("1/32in") == 0.79375); // 25.4 / 32
  CHECK(piece.check({"--units", "MM"}).status == 0);
  CHECK(piece.check({"--paper", "Letter"}).status == 0);
  check_refused(piece.check({"--top-z", "0.O5"}), 2, {"--top-z", "letter O", "write 0.05"});
  check_refused(piece.check({"--top-z", "1,250"}), 2, {"--top-z", "write 1.250 or 1250"});
  check_refused(piece.check({"--top-z", "1/32"}), 2, {"--top-z", "write 1/32in"});
}

TEST_CASE("--paper Letter is the paper of that size, --units Inch the inch") {
  const SmallPiece piece;
  const std::string job = piece.folder.file("job.toml", kJob).string();
  const std::string sheet = (piece.folder.path() / "sheet.pdf").string();
  const auto size = [&](const char* paper) {
    CHECK(leastwall_program({"check", job, "--sheet", sheet, "--paper", paper}).status == 0);
    const std::string info = run_program({"pdfinfo", sheet}).out;
    const auto at = info.find("Page size:");
    REQUIRE(at != info.npos);
    return info.substr(at, info.find('\n', at) - at);
  };
  CHECK(has(size("Letter"), "612 x 792")); // 8.5 x 11 inches of 72 points
  CHECK(size("LETTER") == size("letter"));
  CHECK(has(size("A4"), "595"));
  const SmallPiece inches(2, 1 / 25.4);
  const RunResult r = inches.check({"--json", "-", "--units", "Inch"});
  CHECK(Json::parse(r.out)["least_wall"]["design_mm"].get<double>() == doctest::Approx(2));
}

TEST_CASE("a job or table that is no file: what it is, at once") {
  const SmallPiece piece;
  const std::filesystem::path pipe = piece.folder.path() / "pipe";
  REQUIRE(::mkfifo(pipe.c_str(), 0600) == 0);
  const std::string folder = piece.folder.path().string();
  for (const char* command : {"check", "bed"}) {
    CAPTURE(command);
    check_refused(leastwall_program({command, folder}), 2, {folder, "is a folder"});
    check_refused(leastwall_program({command, pipe.string()}), 2, {"is a pipe and no file"});
    check_refused(leastwall_program({command, "/dev/zero"}), 2, {"is a device and no file"});
    check_refused(leastwall_program({command, "no/such/file"}), 2, {"there is no such file"});
  }
  // The same named by a job.
  const std::string bed = with(kJob, "flatness = 0.1", "readings = \"NAME\"\norigin = [0, 0]");
  for (const auto& [name, words] : {std::pair<std::string, std::string>{"pipe", "is a pipe"},
                                    {".", "is a folder"},
                                    {"/dev/zero", "is a device"}}) {
    const std::string job = piece.folder.file("job.toml", with(bed, "NAME", name)).string();
    check_refused(leastwall_program({"check", job}), 2, {"job.toml:12: bed.readings", words});
  }
}

TEST_CASE("text in UTF-16 is told, in a job and in a table") {
  const TempDir folder;
  const std::string job = folder.file("job.toml", utf16(kJob)).string();
  check_refused(leastwall_program({"check", job}), 2,
                {"job.toml: is text in UTF-16; save it as UTF-8"});
  const std::string table = folder.file("bed.csv", utf16("x,y,z\n0,0,1\n")).string();
  check_refused(leastwall_program({"bed", table}), 2,
                {"bed.csv: is text in UTF-16; save it as UTF-8"});
  const std::string bare = folder.file("bare.csv", utf16("x,y,z\n0,0,1\n").substr(2)).string();
  check_refused(leastwall_program({"bed", bare}), 2, {"bare.csv: is text in UTF-16"});
}

TEST_CASE("a path with \\ is told to have /, whatever the letter after it") {
  const SmallPiece piece;
  for (const char* name : {"meshes\\skin.stl", "meshes\\big.stl", "C:\\Users\\me\\skin.stl",
                           "meshes\\new.stl", "meshes\\\\skin.stl"}) {
    CAPTURE(name);
    const std::string job = piece.folder.file("job.toml", with(kJob, "skin.stl", name)).string();
    check_refused(leastwall_program({"check", job}), 2,
                  {"job.toml:14: ", "write / instead of \\ in paths"});
  }
}

TEST_CASE("a letter O in a table is told with its line") {
  const TempDir folder;
  const std::string table =
      folder.file("bed.csv", "x,y,z\n0,0,0.1\n100,0,0.O5\n0,100,0.2\n").string();
  check_refused(leastwall_program({"bed", table}), 2,
                {"bed.csv:3: \"0.O5\" has the letter O where the digit 0 belongs; write 0.05"});
}

TEST_CASE("a mesh without unit: each command says what it takes") {
  const SmallPiece piece;
  const std::string job = piece.folder.file("job.toml", kJob).string();
  const auto unit_notes = [](const RunResult& r) {
    const Json result = Json::parse(r.out);
    std::string all;
    for (const Json& w : result["warnings"])
      if (w["code"] == "unit-assumed")
        all += w["text"].get<std::string>() + "\n";
    return all;
  };
  const std::string quick = unit_notes(piece.check({"--json", "-"}));
  CHECK(has(quick, "If they are inches, say --units inch."));
  const std::string by_job = unit_notes(leastwall_program({"check", job, "--json", "-"}));
  CHECK_FALSE(has(by_job, "--units"));
  CHECK(has(by_job, "Pocket: "));
  CHECK(has(by_job, "If they are inches, write placing.units = \"inch\" under [[part.pocket]]."));
  CHECK(has(by_job, "If they are inches, write placing.units = \"inch\" under [[part]]."));
  // What it says works.
  const std::string done =
      with(with(with(kJob, "mesh =", "placing.units = \"inch\"\nmesh ="),
                "skin =", "placing.units = \"inch\"\nskin ="),
           "thickness = 20", "thickness = 510"); // a board that holds a piece of 20 inches
  const std::string inches = piece.folder.file("inches.toml", done).string();
  const RunResult r = leastwall_program({"check", inches, "--json", "-"});
  INFO(r.err);
  CHECK(unit_notes(r).empty());
  CHECK(Json::parse(r.out)["least_wall"]["design_mm"].get<double>() ==
        doctest::Approx(2 * 25.4).epsilon(1e-5));
}
