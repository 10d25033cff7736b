#include "mesh/formats/read_gltf.h"

#include "base/file/refuse_file.h"
#include "mesh/formats/gltf_data.h"
#include "mesh/formats/gltf_document.h"
#include "mesh/placed_meshes.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>

namespace leastwall {
namespace {

using nlohmann::json;

constexpr std::string_view kPlain = "export the posed surface as a plain mesh, best as binary STL";

template <std::size_t N> std::array<double, N> numbers(const json& list) {
  std::array<double, N> values{};
  for (std::size_t i = 0; i < N; ++i) // open_gltf() has counted them
    values[i] = list[i].get<double>();
  return values;
}

class Scene {
 public:
  Scene(const MappedFile& file, const GltfDocument& document, std::uint64_t max_bytes,
        const RunContext& run)
      : file_(file), root_(document.root), data_(file, document), max_bytes_(max_bytes),
        context_(run), nodes_(gltf_list(file, root_, "nodes")),
        meshes_(gltf_list(file, root_, "meshes")), node_used_(nodes_.size(), false),
        mesh_used_(meshes_.size(), false) {}

  PolygonSoup read() {
    const json& scenes = gltf_list(file_, root_, "scenes");
    const std::uint64_t which = gltf_whole(file_, root_, "scene").value_or(0);
    if (which >= scenes.size())
      refuse_gltf(file_, "glTF has no scene, or names one that is not there");
    struct Visit {
      std::uint64_t node;
      Affine outer;
    };
    std::vector<Visit> visits;
    const auto add = [&](const json& object, const char* name, const Affine& outer) {
      const std::vector<std::uint64_t> list = node_list(object, name);
      for (std::size_t i = list.size(); i-- > 0;) // the file's order
        visits.push_back({list[i], outer});
    };
    add(scenes[static_cast<std::size_t>(which)], "nodes", {});
    while (!visits.empty()) {
      context_.check();
      const auto [number, outer] = visits.back();
      visits.pop_back();
      if (number >= nodes_.size())
        refuse_gltf(file_, fmt::format("glTF node {} is not there", number));
      const auto at = static_cast<std::size_t>(number);
      if (node_used_[at])
        refuse_gltf(file_, fmt::format("glTF node {} stands in more than one place", number));
      node_used_[at] = true;
      const json& node = nodes_[at];
      check_node(node, number);
      const Affine map = outer.after(placing(node));
      if (const auto mesh = gltf_whole(file_, node, "mesh"))
        place(node, *mesh, map);
      add(node, "children", map);
    }
    data_.check_unchanged();
    return std::move(soup_);
  }

  std::size_t unplaced() const {
    return static_cast<std::size_t>(std::count(mesh_used_.begin(), mesh_used_.end(), false));
  }

 private:
  std::vector<std::uint64_t> node_list(const json& object, const char* name) const {
    std::vector<std::uint64_t> list;
    const auto found = object.find(name);
    if (found == object.end())
      return list;
    for (const json& item : *found) {
      if (!found->is_array() || !item.is_number_unsigned())
        refuse_gltf(file_,
                    fmt::format("glTF \"{}\" holds something else than whole numbers", name));
      list.push_back(item.get<std::uint64_t>());
    }
    return list;
  }

  /// What would pose, repeat or hide the mesh.
  void check_node(const json& node, std::uint64_t number) const {
    if (node.contains("skin"))
      refuse_file(file_.path(), fmt::format("glTF node {} is posed by a skeleton", number), kPlain);
    if (const auto extensions = node.find("extensions"); extensions != node.end())
      for (const char* name : {"EXT_mesh_gpu_instancing", "KHR_node_visibility"})
        if (extensions->is_object() && extensions->contains(name))
          refuse_file(file_.path(),
                      fmt::format("glTF node {} uses the extension {}, which is not read here",
                                  number, name),
                      kPlain);
  }

  void check_weights(const json& object) const {
    if (const auto weights = object.find("weights"); weights != object.end())
      for (const json& weight : *weights)
        if (!weight.is_number() || weight.get<double>() != 0)
          refuse_file(file_.path(), "glTF mesh is changed by morph targets", kPlain);
  }

  /// Columns of a matrix; or scaled, then turned, then shifted.
  Affine placing(const json& node) const {
    if (const auto matrix = node.find("matrix"); matrix != node.end()) {
      const auto m = numbers<16>(*matrix);
      if (m[3] != 0 || m[7] != 0 || m[11] != 0 || m[15] != 1)
        refuse_gltf(file_, "glTF node has a matrix whose last row is not 0 0 0 1");
      return {{m[0], m[1], m[2]}, {m[4], m[5], m[6]}, {m[8], m[9], m[10]}, {m[12], m[13], m[14]}};
    }
    Affine map;
    if (const auto found = node.find("rotation"); found != node.end()) {
      auto q = numbers<4>(*found);
      const double size = std::sqrt(q[0] * q[0] + q[1] * q[1] + q[2] * q[2] + q[3] * q[3]);
      if (!(std::abs(size - 1) < 0.01))
        refuse_gltf(file_, "glTF node has a rotation that is no unit quaternion");
      for (double& part : q)
        part /= size;
      const auto [x, y, z, w] = q;
      map.x = {1 - 2 * (y * y + z * z), 2 * (x * y + z * w), 2 * (x * z - y * w)};
      map.y = {2 * (x * y - z * w), 1 - 2 * (x * x + z * z), 2 * (y * z + x * w)};
      map.z = {2 * (x * z + y * w), 2 * (y * z - x * w), 1 - 2 * (x * x + y * y)};
    }
    if (const auto found = node.find("scale"); found != node.end()) {
      const auto s = numbers<3>(*found);
      map.x = map.x * s[0];
      map.y = map.y * s[1];
      map.z = map.z * s[2];
    }
    if (const auto found = node.find("translation"); found != node.end()) {
      const auto t = numbers<3>(*found);
      map.shift = {t[0], t[1], t[2]};
    }
    return map;
  }

  void place(const json& node, std::uint64_t number, const Affine& map) {
    if (number >= meshes_.size())
      refuse_gltf(file_, fmt::format("glTF mesh {} is not there", number));
    const json& mesh = meshes_[static_cast<std::size_t>(number)];
    mesh_used_[static_cast<std::size_t>(number)] = true;
    check_weights(node);
    check_weights(mesh);
    for (const json& primitive : gltf_list(file_, mesh, "primitives"))
      place_polygons(file_.path(), faces(primitive), map, max_bytes_, soup_);
  }

  /// The positions that the corners use, which are numbered anew: many meshes may share one long
  /// list of positions.
  static void take_used(const GltfData::Positions& all, std::vector<std::uint32_t>& corners,
                        std::vector<Vec3>& used) {
    std::vector<std::uint32_t> numbers = corners;
    std::sort(numbers.begin(), numbers.end());
    numbers.erase(std::unique(numbers.begin(), numbers.end()), numbers.end());
    used.reserve(numbers.size());
    for (const std::uint32_t number : numbers)
      used.push_back(all[number]);
    if (numbers.size() == all.count)
      return;
    for (std::uint32_t& corner : corners)
      corner = static_cast<std::uint32_t>(std::lower_bound(numbers.begin(), numbers.end(), corner) -
                                          numbers.begin());
  }

  PolygonSoup faces(const json& primitive) {
    PolygonSoup mesh;
    const std::uint64_t mode = gltf_whole(file_, primitive, "mode").value_or(4);
    if (mode > 6)
      refuse_gltf(file_, fmt::format("glTF mesh of the unknown mode {}", mode));
    if (mode < 4) { // points or lines: counted by take_polygons
      mesh.sizes.push_back(0);
      return mesh;
    }
    const auto attributes = primitive.find("attributes");
    if (attributes == primitive.end() || !attributes->is_object() ||
        !attributes->contains("POSITION"))
      refuse_gltf(file_, "glTF mesh has no positions");
    const GltfData::Positions positions =
        data_.positions(gltf_whole(file_, *attributes, "POSITION").value_or(0));
    std::vector<std::uint32_t> corners;
    if (const auto indices = gltf_whole(file_, primitive, "indices")) {
      corners = data_.indices(*indices);
    } else {
      if (positions.count > 0xfffffffe)
        refuse_gltf(file_, "glTF mesh has too many vertices");
      corners.resize(static_cast<std::size_t>(positions.count));
      for (std::size_t i = 0; i < corners.size(); ++i)
        corners[i] = static_cast<std::uint32_t>(i);
    }
    for (const std::uint32_t corner : corners)
      if (corner >= positions.count)
        refuse_gltf(file_, fmt::format("a face of a glTF mesh names vertex {} of {}", corner,
                                       positions.count));
    const std::size_t n = corners.size();
    if (n < 3 || (mode == 4 && n % 3 != 0))
      refuse_gltf(file_, fmt::format("glTF mesh has {} corners, which make no whole triangles", n));
    take_used(positions, corners, mesh.vertices);
    if (mode == 4) {
      mesh.corners = std::move(corners);
      mesh.sizes.assign(n / 3, 3);
      return mesh;
    }
    for (std::size_t i = 0; i + 2 < n; ++i) {
      const std::size_t odd = i % 2;
      if (mode == 5) // a strip: every second triangle the other way round
        mesh.corners.insert(mesh.corners.end(),
                            {corners[i], corners[i + 1 + odd], corners[i + 2 - odd]});
      else // a fan
        mesh.corners.insert(mesh.corners.end(), {corners[i + 1], corners[i + 2], corners[0]});
      mesh.sizes.push_back(3);
    }
    return mesh;
  }

  const MappedFile& file_;
  const json& root_;
  GltfData data_;
  std::uint64_t max_bytes_;
  const RunContext& context_;
  const json& nodes_;
  const json& meshes_;
  std::vector<bool> node_used_, mesh_used_;
  PolygonSoup soup_;
};

} // namespace

FileMesh read_gltf(const MappedFile& file, std::uint64_t max_bytes, const RunContext& run) {
  FileMesh read;
  read.format = file.text().starts_with("glTF") ? "binary glTF" : "glTF";
  read.mm_per_unit = 1000;
  read.unit = "metre";
  read.single_numbers = true;
  read.notices.push_back(
      {"y-up", "glTF is in metres with y up by its specification. The axes were kept as they "
               "are: turn the model (placing.up in a job) if its depth is not along z."});
  const GltfDocument document = open_gltf(file);
  Scene scene(file, document, max_bytes, run);
  PolygonSoup soup = scene.read();
  if (soup.sizes.empty())
    refuse_file(file.path(), fmt::format("{} places no mesh", read.format),
                "export the mesh again, best as binary STL or PLY");
  if (scene.unplaced() > 0)
    read.notices.push_back(
        {"not-placed", fmt::format("{} of the meshes in the file are not placed in "
                                   "its scene and were left out.",
                                   scene.unplaced())});
  take_polygons(file.path(), std::move(soup), read);
  return read;
}

} // namespace leastwall
