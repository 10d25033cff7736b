// What each writer writes for one small piece, against files that somebody looked at.
#include "bed/bed_map.h"
#include "report/mesh/coloured_mesh.h"
#include "report/page/page.h"
#include "report/sample_setups.h"
#include "report/sample_walls.h"
#include "report/sheet/pdf_tools.h"
#include "support/golden_files.h"
#include "support/run_program.h"
#include "support/temp_dir.h"

#include <cstring>
#include <doctest/doctest.h>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

using namespace leastwall;
using namespace leastwall::test;
using Json = nlohmann::ordered_json;

namespace {

const std::filesystem::path kPiece =
    std::filesystem::path(LEASTWALL_SOURCE_DIR) / "tests" / "golden" / "piece";

/// Run beside the job, so that no path of this machine gets into a file.
std::string run(std::vector<std::string> words, int status) {
  RunOptions options;
  options.working_folder = kPiece;
  const RunResult r = leastwall_program(std::move(words), options);
  INFO(r.err);
  REQUIRE(r.status == status);
  return r.out;
}

template <class T> T read(const std::string& bytes, std::size_t at) {
  T value{};
  REQUIRE(at + sizeof value <= bytes.size());
  std::memcpy(&value, bytes.data() + at, sizeof value);
  return value;
}

/// A plate of twelve samples, its wall from 0.3 mm over nothing to 1.2 mm.
WallMap small_plate() {
  sample::Plate plate;
  plate.nx = 3;
  plate.ny = 2;
  plate.z = [](double x, double y) { return -20 + 0.05 * x - 0.02 * y; };
  plate.wall = [](double x, double y) { return -0.3 + 0.015 * x + 0.001 * y; };
  return sample::wall_map(plate);
}

/// The bytes of an accessor, a line each element.
std::string accessor_text(const Json& gltf, const std::string& glb, std::size_t data,
                          std::size_t n) {
  const Json& a = gltf["accessors"][n];
  const Json& view = gltf["bufferViews"][a["bufferView"].get<std::size_t>()];
  const int type = a["componentType"];
  const std::size_t size = type == 5126 || type == 5125 ? 4 : type == 5123 ? 2 : 1; // glTF 2.0
  const std::string kind = a["type"];
  const std::size_t wide = kind == "SCALAR" ? 1 : kind == "VEC3" ? 3 : 4;
  const std::size_t step = view.value("byteStride", size * wide);
  std::size_t at =
      data + view.value("byteOffset", std::size_t{0}) + a.value("byteOffset", std::size_t{0});
  std::string out = fmt::format("accessor {}\n", n);
  for (std::size_t i = 0; i < a["count"].get<std::size_t>(); ++i, at += step) {
    for (std::size_t c = 0; c < wide; ++c)
      if (type == 5126)
        out += fmt::format("{:.5f} ", read<float>(glb, at + 4 * c));
      else if (type == 5125)
        out += fmt::format("{} ", read<std::uint32_t>(glb, at + 4 * c));
      else if (type == 5123)
        out += fmt::format("{} ", read<std::uint16_t>(glb, at + 2 * c));
      else
        out += fmt::format("{} ", static_cast<int>(read<std::uint8_t>(glb, at + c)));
    out.back() = '\n';
  }
  return out;
}

/// What stands between two marks.
std::string between(const std::string& text, const std::string& from, const std::string& to) {
  const std::size_t begin = text.find(from);
  REQUIRE(begin != text.npos);
  const std::size_t end = text.find(to, begin + from.size());
  REQUIRE(end != text.npos);
  return text.substr(begin + from.size(), end - begin - from.size());
}

std::string from_base64(const std::string& text) {
  static const std::string kDigits =
      "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/"; // RFC 4648
  std::string out;
  std::uint32_t bits = 0;
  int held = 0;
  for (const char c : text) {
    const std::size_t digit = kDigits.find(c);
    if (digit == kDigits.npos)
      continue;
    bits = bits << 6 | static_cast<std::uint32_t>(digit);
    held += 6;
    if (held >= 8) {
      held -= 8;
      out += static_cast<char>(bits >> held & 0xff);
    }
  }
  return out;
}

template <class T> Json array_of(const Json& facts, const std::string& bytes, const char* name) {
  Json out = Json::array();
  const std::size_t at = facts["arrays"][name][0], count = facts["arrays"][name][1];
  for (std::size_t i = 0; i < count; ++i)
    out.push_back(read<T>(bytes, at + i * sizeof(T)));
  return out;
}

/// Arrays of numbers on one line each.
std::string readable(const Json& json) {
  std::string out;
  for (const auto& [key, value] : json.items()) {
    if (value.is_object() && !value.empty()) {
      for (const auto& [inner, part] : value.items())
        out += fmt::format("{}.{}: {}\n", key, inner, part.dump());
    } else if (value.is_array() && !value.empty() && value[0].is_object()) {
      for (const Json& part : value)
        out += fmt::format("{}: {}\n", key, part.dump());
    } else {
      out += fmt::format("{}: {}\n", key, value.dump());
    }
  }
  return out;
}

} // namespace

TEST_CASE("goldens: one small job through every file of the program") {
  TempDir folder;
  const std::string out = (folder.path() / "out").string();
  run({"check", "trough.toml", "--out", out}, 1);
  check_golden("check.txt", run({"check", "trough.toml"}, 1));
  check_golden("check-all.txt", run({"check", "trough.toml", "--all"}, 1));
  check_golden("check.json", file_text(out + "/check.json"));
  for (const char* name : {"wall", "side-b", "causes", "bed"})
    check_golden_picture(std::string(name) + ".png", file_text(out + "/" + name + ".png"));
  std::string sheet;
  {
    const sample::PdfFile pdf(file_text(out + "/setup-sheet.pdf"));
    for (int page = 1; page <= pdf.pages(); ++page)
      sheet += fmt::format("== page {}\n{}", page, pdf.text(page));
  }
  check_golden("setup-sheet.txt", sheet);
  check_golden("check-inches.txt", run({"check", "trough.toml", "--inches"}, 1));
  check_golden("bed.txt", run({"bed", "--job", "trough.toml"}, 1));
  check_golden("bed.json", run({"bed", "--job", "trough.toml", "--json", "-"}, 1));
}

TEST_CASE("goldens: the resin of the demo's whole gourd") {
  TempDir folder;
  RunOptions options;
  options.working_folder = folder.path();
  REQUIRE(leastwall_program({"start", "demo"}, options).status == 0);
  options.working_folder = folder.path() / "demo";
  const auto pour = [&options](std::vector<std::string> more) {
    more.insert(more.begin(), {"pour", "gourd-whole.toml", "--start", "2026-03-14 18:00"});
    const RunResult r = leastwall_program(std::move(more), options);
    INFO(r.err);
    REQUIRE(r.status == 0);
    return r.out;
  };
  check_golden("pour.txt", pour({"--tilt", "2 mm/m"}));
  check_golden("pour-inches.txt", pour({"--inches"}));
  check_golden("pour.json", pour({"--tilt", "2 mm/m", "--json", "-"}));
  pour({"--quiet", "--picture", "pour.png"});
  check_golden_picture("pour.png", file_text(folder.path() / "demo" / "pour.png"));
  // Drawn for the setup sheet, the same lifts.
  REQUIRE(
      leastwall_program({"check", "gourd-whole.toml", "--quiet", "--sheet", "sheet.pdf"}, options)
          .status <= 1);
  const sample::PdfFile pdf(file_text(folder.path() / "demo" / "sheet.pdf"));
  REQUIRE(pdf.pages() == 7);
  check_golden("pour-sheet.txt", pdf.text(3) + pdf.text(5));
}

TEST_CASE("goldens: coloured meshes of twelve samples") {
  const WallMap map = small_plate();
  const std::string ply = coloured_ply(map, sample::walls(map));
  const std::string end = "end_header\n";
  std::size_t at = ply.find(end);
  REQUIRE(at != ply.npos);
  at += end.size();
  std::string text = ply.substr(0, at);
  for (std::size_t i = 0; i < map.samples.size(); ++i) {
    for (const std::size_t c : {0, 4, 8})
      text += fmt::format("{:.3f} ", read<float>(ply, at + c));
    for (const std::size_t c : {12, 13, 14})
      text += fmt::format("{} ", static_cast<int>(read<std::uint8_t>(ply, at + c)));
    text += fmt::format("{:.4f}\n", read<float>(ply, at + 15));
    at += 19;
  }
  while (at < ply.size()) {
    const std::size_t corners = read<std::uint8_t>(ply, at);
    text += std::to_string(corners);
    for (std::size_t c = 0; c < corners; ++c)
      text += fmt::format(" {}", read<std::int32_t>(ply, at + 1 + 4 * c));
    text += "\n";
    at += 1 + 4 * corners;
  }
  check_golden("skin.ply.txt", text);

  const std::string glb = coloured_glb(map, sample::walls(map));
  const std::size_t json_size = read<std::uint32_t>(glb, 12);
  const Json gltf = Json::parse(glb.substr(20, json_size));
  text = gltf.dump(1) + "\n";
  for (std::size_t n = 0; n < gltf["accessors"].size(); ++n)
    text += accessor_text(gltf, glb, 20 + json_size + 8, n);
  check_golden("skin.glb.txt", text);
}

TEST_CASE("goldens: the data of the page") {
  const WallMap map = small_plate();
  Setup setup = sample::full_setup();
  setup.bed.readings = std::make_shared<const BedMap>(BedMap::from_readings(
      std::vector<Vec3>{{-80, -100, 0}, {80, -100, 0.02}, {-80, 100, -0.01}, {80, 100, 0.05}}));
  setup.bed.seating = Seating::pressed;
  BudgetOptions options;
  options.limit_mm = 0.6;
  options.trials = 200;
  options.with_allowed = options.with_advice = false;
  const Budget budget = compute_budget(setup, map.samples, options, {});
  CheckReport report = sample::full_report();
  report.wall.limit_mm = options.limit_mm;
  report.wall.verdict = budget.verdict;
  report.wall.causes = budget.causes;
  const std::string page = page_html({report, map, budget, options, setup}, {});
  Json facts = Json::parse(between(page, "<script type=\"application/json\" id=\"facts\">", "<"));
  const std::string bytes =
      from_base64(between(page, "<script type=\"text/plain\" id=\"numbers\">", "<"));
  Json arrays;
  arrays["wall"] = array_of<float>(facts, bytes, "wall");
  arrays["at"] = array_of<std::uint16_t>(facts, bytes, "at");
  arrays["through"] = array_of<std::int8_t>(facts, bytes, "through");
  arrays["columns"] = array_of<std::int16_t>(facts, bytes, "columns");
  arrays["cells"] = array_of<std::uint16_t>(facts, bytes, "cells");
  facts["numbers"] = arrays;
  facts.erase("palette"); // colour_map_test.cpp looks at it
  Json some = Json::array();
  const Json& heights = facts["bed"]["heights"]["values"];
  for (std::size_t i = 0; i < heights.size(); i += 101)
    some.push_back(heights[i]);
  facts["bed"]["heights"]["values"] = some;
  check_golden("page.txt", readable(facts));
}

TEST_CASE("goldens: what counts as a difference") {
  CHECK(differences("a 1.250 mm\n", "a   1.251 mm\n").empty()); // one in the last place
  CHECK(differences("a 1.250 mm\n", "a 1.252 mm\n").size() == 2);
  CHECK(differences("3 places\n", "4 places\n").size() == 2);
  CHECK(differences("x -0.0005\n", "x 0.0005\n").size() == 2);
  CHECK(differences("same\nmore\n", "same\n").size() == 1);
  CHECK(differences("Zero side A\n", "Zero side B\n")[1] == "line 1, is:  Zero side B");
}
