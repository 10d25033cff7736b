#include "report/mesh/coloured_mesh.h"

#include "base/errors.h"
#include "mesh/load/load_mesh.h"
#include "report/draw/colour_map.h"
#include "report/sample_walls.h"
#include "support/temp_dir.h"

#include <bit>
#include <cmath>
#include <cstring>
#include <doctest/doctest.h>
#include <fstream>
#include <nlohmann/json.hpp>

using namespace leastwall;

namespace {

template <class T> T read(const std::string& bytes, std::size_t at) {
  T value;
  REQUIRE(at + sizeof value <= bytes.size());
  std::memcpy(&value, bytes.data() + at, sizeof value);
  return value;
}

/// A tilted plate with walls from -0.5 to 3.5 mm and one spot.
WallMap tilted() {
  sample::Plate plate;
  plate.nx = 8;
  plate.ny = 5;
  plate.z = [](double x, double y) { return -20 + 0.1 * x + 0.05 * y; };
  plate.wall = [](double x, double) { return -0.5 + 0.04 * x; };
  WallMap map = sample::wall_map(plate);
  WallSample minimum = map.samples[0];
  minimum.at = {5, 5, -19.25};
  map.minima.push_back({static_cast<std::uint32_t>(map.samples.size()), 0});
  map.samples.push_back(minimum);
  return map;
}

} // namespace

TEST_CASE("coloured PLY holds places, colours and walls, and loads as a mesh") {
  const WallMap map = tilted();
  const std::vector<double> walls = sample::walls(map);
  const std::string ply = coloured_ply(map, walls);
  CHECK(ply == coloured_ply(map, walls));
  const std::size_t body = ply.find("end_header\n") + 11;
  const std::size_t n = map.samples.size(), triangles = map.cells.size() + 2;
  CHECK(ply.find("element vertex " + std::to_string(n) + "\n") < body);
  CHECK(ply.size() == body + n * 19 + triangles * 13);
  for (std::size_t i = 0; i < n; ++i) {
    const std::size_t at = body + 19 * i;
    CHECK(read<float>(ply, at + 8) == static_cast<float>(map.samples[i].at.z));
    const Rgb colour{read<std::uint8_t>(ply, at + 12), read<std::uint8_t>(ply, at + 13),
                     read<std::uint8_t>(ply, at + 14)};
    CHECK(colour == wall_colour(walls[i]));
    CHECK(read<float>(ply, at + 15) == static_cast<float>(walls[i]));
  }
  const test::TempDir folder;
  const std::filesystem::path file = folder.path() / "skin.ply";
  std::ofstream(file, std::ios::binary) << ply;
  const LoadedMesh loaded = load_mesh(file, {}, {});
  CHECK(loaded.mesh.triangles.size() == triangles);
  CHECK(loaded.mesh.box().high.x == doctest::Approx(100));
}

// Chunk layout, alignment, accessor rules: Khronos glTF 2.0 specification, sections 3.6, 3.7.2
// (COLOR_0 normalised, linear), 3.4 (metres, +Y up) and 4.4 (GLB).
TEST_CASE("coloured GLB follows glTF 2.0: metres, y up, linear colours") {
  const WallMap map = tilted();
  const std::vector<double> walls = sample::walls(map);
  const std::string glb = coloured_glb(map, walls);
  REQUIRE(glb.size() % 4 == 0);
  CHECK(glb.substr(0, 4) == "glTF");
  CHECK(read<std::uint32_t>(glb, 4) == 2);
  CHECK(read<std::uint32_t>(glb, 8) == glb.size());
  const auto json_size = read<std::uint32_t>(glb, 12);
  CHECK(glb.substr(16, 4) == "JSON");
  const nlohmann::json json = nlohmann::json::parse(glb.substr(20, json_size));
  const std::size_t bin = 20 + json_size + 8;
  CHECK(glb.substr(bin - 4, 4) == std::string("BIN\0", 4));
  CHECK(read<std::uint32_t>(glb, bin - 8) == glb.size() - bin);

  const nlohmann::json& primitive = json["meshes"][0]["primitives"][0];
  const nlohmann::json& place = json["accessors"][primitive["attributes"]["POSITION"].get<int>()];
  const nlohmann::json& colour = json["accessors"][primitive["attributes"]["COLOR_0"].get<int>()];
  const nlohmann::json& index = json["accessors"][primitive["indices"].get<int>()];
  CHECK(place["componentType"] == 5126);
  CHECK(colour["componentType"] == 5123);
  CHECK(colour["normalized"] == true);
  CHECK(index["componentType"] == 5125);
  CHECK(index["count"] == 3 * (map.cells.size() + 2));
  const auto start = [&](const nlohmann::json& accessor) {
    const nlohmann::json& view = json["bufferViews"][accessor["bufferView"].get<int>()];
    CHECK(view["byteOffset"].get<std::size_t>() % 4 == 0);
    return bin + view["byteOffset"].get<std::size_t>();
  };
  const std::size_t places = start(place), colours = start(colour), indices = start(index);
  double highest = -1e9;
  for (std::size_t i = 0; i < map.samples.size(); ++i) {
    const Vec3 p = map.samples[i].at;
    CHECK(read<float>(glb, places + 12 * i) == doctest::Approx(p.x / 1000));
    CHECK(read<float>(glb, places + 12 * i + 4) == doctest::Approx(p.z / 1000));
    CHECK(read<float>(glb, places + 12 * i + 8) == doctest::Approx(-p.y / 1000));
    highest = std::max(highest, p.z / 1000);
    // Back from linear light to sRGB (IEC 61966-2-1) gives the colour of the pictures.
    const double linear = read<std::uint16_t>(glb, colours + 8 * i + 2) / 65535.0;
    const double srgb =
        linear <= 0.0031308 ? 12.92 * linear : 1.055 * std::pow(linear, 1 / 2.4) - 0.055;
    CHECK(std::lround(255 * srgb) == wall_colour(walls[i]).g);
    CHECK(read<std::uint16_t>(glb, colours + 8 * i + 6) == 65535);
  }
  CHECK(place["max"][1].get<double>() == doctest::Approx(highest));
  for (std::size_t i = 0; i < index["count"].get<std::size_t>(); ++i)
    CHECK(read<std::uint32_t>(glb, indices + 4 * i) < map.samples.size());
}

TEST_CASE("coloured meshes refuse what does not fit together") {
  const WallMap map = tilted();
  const std::vector<double> too_few(3, 1.0);
  CHECK_THROWS_AS(coloured_ply(map, too_few), RunError);
  CHECK_THROWS_AS(coloured_glb(WallMap{}, {}), RunError);
}
