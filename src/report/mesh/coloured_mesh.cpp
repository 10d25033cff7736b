#include "report/mesh/coloured_mesh.h"

#include "base/errors.h"
#include "base/maths/exp_log.h"
#include "report/draw/cells_with_minima.h"
#include "report/draw/colour_map.h"
#include "report/draw/little_endian.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>
#include <limits>
#include <nlohmann/json.hpp>

namespace leastwall {
namespace {

void require_values(const WallMap& skin, std::span<const double> values) {
  if (values.size() != skin.samples.size())
    throw RunError("coloured mesh: the number of walls differs from the number of samples; please "
                   "keep the meshes and report it as a fault of leastwall");
  if (skin.cells.empty())
    throw RunError("coloured mesh: nothing was measured, so there is nothing to colour");
  if (skin.samples.size() > std::numeric_limits<std::int32_t>::max())
    throw RunError("coloured mesh: more corners than the format can number");
}

/// sRGB byte to linear light, 16 bits (IEC 61966-2-1).
std::uint16_t linear16(std::uint8_t channel) {
  const double c = channel / 255.0;
  const double linear = c <= 0.04045 ? c / 12.92 : maths::power((c + 0.055) / 1.055, 2.4);
  return static_cast<std::uint16_t>(std::lround(linear * 65535));
}

std::array<float, 3> metres_y_up(Vec3 p) {
  return {static_cast<float>(p.x / 1000), static_cast<float>(p.z / 1000),
          static_cast<float>(-p.y / 1000)};
}

void pad_to_four(std::string& bytes, char with) {
  while (bytes.size() % 4 != 0)
    bytes += with;
}

} // namespace

std::string coloured_ply(const WallMap& skin, std::span<const double> values_mm) {
  require_values(skin, values_mm);
  const std::vector<Tri> triangles = cells_with_minima(skin);
  std::string out = fmt::format(
      "ply\nformat binary_little_endian 1.0\n"
      "comment leastwall: skin coloured by wall, x y z and wall_mm in mm\n"
      "element vertex {}\nproperty float x\nproperty float y\nproperty float z\n"
      "property uchar red\nproperty uchar green\nproperty uchar blue\nproperty float wall_mm\n"
      "element face {}\nproperty list uchar int vertex_indices\nend_header\n",
      skin.samples.size(), triangles.size());
  for (std::size_t i = 0; i < skin.samples.size(); ++i) {
    const Vec3 p = skin.samples[i].at;
    for (const double c : {p.x, p.y, p.z})
      append_le(out, static_cast<float>(c));
    const Rgb colour = wall_colour(values_mm[i]);
    for (const std::uint8_t c : {colour.r, colour.g, colour.b})
      append_le(out, c);
    append_le(out, static_cast<float>(values_mm[i]));
  }
  for (const Tri& t : triangles) {
    append_le(out, std::uint8_t{3});
    for (const std::uint32_t corner : t)
      append_le(out, static_cast<std::int32_t>(corner));
  }
  return out;
}

std::string coloured_glb(const WallMap& skin, std::span<const double> values_mm) {
  require_values(skin, values_mm);
  const std::vector<Tri> triangles = cells_with_minima(skin);
  const std::size_t n = skin.samples.size();
  std::string bin;
  std::array<float, 3> low{}, high{};
  low.fill(std::numeric_limits<float>::infinity());
  high.fill(-std::numeric_limits<float>::infinity());
  for (const WallSample& s : skin.samples) {
    const std::array<float, 3> p = metres_y_up(s.at);
    for (std::size_t i = 0; i < 3; ++i) {
      low[i] = std::min(low[i], p[i]);
      high[i] = std::max(high[i], p[i]);
      append_le(bin, p[i]);
    }
  }
  for (const double wall : values_mm) {
    const Rgb colour = wall_colour(wall);
    for (const std::uint8_t c : {colour.r, colour.g, colour.b})
      append_le(bin, linear16(c));
    append_le(bin, std::uint16_t{65535});
  }
  for (const Tri& t : triangles)
    for (const std::uint32_t corner : t)
      append_le(bin, corner);

  using Json = nlohmann::ordered_json;
  const auto view = [](std::size_t at, std::size_t length, int target) {
    return Json{{"buffer", 0}, {"byteOffset", at}, {"byteLength", length}, {"target", target}};
  };
  constexpr int kVertices = 34962, kIndices = 34963, kUint16 = 5123, kUint32 = 5125, kFloat = 5126;
  Json gltf;
  gltf["asset"] = {{"version", "2.0"}, {"generator", "leastwall"}};
  gltf["extensionsUsed"] = Json::array({"KHR_materials_unlit"});
  gltf["scene"] = 0;
  gltf["scenes"] = Json::array({Json{{"nodes", Json::array({0})}}});
  gltf["nodes"] = Json::array({Json{{"mesh", 0}, {"name", "skin coloured by wall"}}});
  gltf["materials"] = Json::array(
      {Json{{"pbrMetallicRoughness", {{"metallicFactor", 0.0}, {"roughnessFactor", 1.0}}},
            {"doubleSided", true},
            {"extensions", {{"KHR_materials_unlit", Json::object()}}}}});
  gltf["meshes"] = Json::array(
      {Json{{"primitives", Json::array({Json{{"attributes", {{"POSITION", 0}, {"COLOR_0", 1}}},
                                             {"indices", 2},
                                             {"material", 0}}})}}});
  gltf["accessors"] = Json::array({
      Json{{"bufferView", 0},
           {"componentType", kFloat},
           {"count", n},
           {"type", "VEC3"},
           {"min", low},
           {"max", high}},
      Json{{"bufferView", 1},
           {"componentType", kUint16},
           {"normalized", true},
           {"count", n},
           {"type", "VEC4"}},
      Json{{"bufferView", 2},
           {"componentType", kUint32},
           {"count", 3 * triangles.size()},
           {"type", "SCALAR"}},
  });
  gltf["bufferViews"] = Json::array({view(0, 12 * n, kVertices), view(12 * n, 8 * n, kVertices),
                                     view(20 * n, 12 * triangles.size(), kIndices)});
  gltf["buffers"] = Json::array({Json{{"byteLength", bin.size()}}});

  // GLB: header, JSON chunk padded with blanks, binary chunk padded with zeros (glTF 2.0, 4.4).
  std::string json = gltf.dump();
  pad_to_four(json, ' ');
  pad_to_four(bin, '\0');
  const std::size_t total = 12 + 8 + json.size() + 8 + bin.size();
  if (total > std::numeric_limits<std::uint32_t>::max())
    throw RunError("coloured mesh: larger than a GLB file can be");
  std::string out = "glTF";
  append_le(out, std::uint32_t{2});
  append_le(out, static_cast<std::uint32_t>(total));
  append_le(out, static_cast<std::uint32_t>(json.size()));
  out += "JSON" + json;
  append_le(out, static_cast<std::uint32_t>(bin.size()));
  out += std::string("BIN\0", 4) + bin;
  return out;
}

} // namespace leastwall
