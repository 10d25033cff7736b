#include "bench/pair.h"

#include <algorithm>
#include <assimp/Importer.hpp>
#include <assimp/scene.h>
#include <charconv>
#include <chrono>
#include <cstdlib>
#include <fmt/format.h>
#include <fstream>
#include <stdexcept>
#include <string_view>
#include <thread>

namespace bench {
namespace {

[[noreturn]] void refuse(std::string_view why) {
  fmt::print(stderr,
             "{}\ncall: POCKET SKIN [--top Z] [--threads N] [--voxel MM] [--band MM] "
             "[--distances FILE]\n",
             why);
  std::exit(2);
}

template <class T> T number(std::string_view text) {
  T value{};
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{} || end != text.data() + text.size())
    refuse(fmt::format("'{}' is no number", text));
  return value;
}

} // namespace

Call read_call(int argc, char** argv) {
  const std::vector<std::string_view> words(argv + 1, argv + argc);
  Call call;
  std::vector<std::string> files;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (!words[i].starts_with("--")) {
      files.emplace_back(words[i]);
      continue;
    }
    if (i + 1 == words.size())
      refuse("a value is missing");
    const std::string_view key = words[i], value = words[++i];
    if (key == "--top")
      call.top_mm = number<double>(value);
    else if (key == "--threads")
      call.threads = number<int>(value);
    else if (key == "--voxel")
      call.voxel_mm = number<double>(value);
    else if (key == "--band")
      call.band_mm = number<double>(value);
    else if (key == "--distances")
      call.distances = value;
    else
      refuse(fmt::format("unknown option {}", key));
  }
  if (files.size() != 2)
    refuse("two meshes are needed");
  call.pocket = files[0];
  call.skin = files[1];
  return call;
}

Mesh read_mesh(const std::string& path, double top_mm) {
  Assimp::Importer importer;
  const aiScene* scene = importer.ReadFile(path, 0);
  if (!scene)
    throw std::runtime_error(path + ": " + importer.GetErrorString());
  Mesh mesh;
  for (unsigned m = 0; m < scene->mNumMeshes; ++m) {
    const aiMesh& part = *scene->mMeshes[m];
    const auto first = static_cast<std::uint32_t>(mesh.points.size());
    mesh.points.reserve(mesh.points.size() + part.mNumVertices);
    for (unsigned v = 0; v < part.mNumVertices; ++v)
      mesh.points.push_back({part.mVertices[v].x, part.mVertices[v].y, part.mVertices[v].z});
    mesh.triangles.reserve(mesh.triangles.size() + part.mNumFaces);
    for (unsigned f = 0; f < part.mNumFaces; ++f) {
      const aiFace& face = part.mFaces[f];
      if (face.mNumIndices != 3)
        continue;
      const std::array<std::uint32_t, 3> t{first + face.mIndices[0], first + face.mIndices[1],
                                           first + face.mIndices[2]};
      if (std::min({mesh.points[t[0]][2], mesh.points[t[1]][2], mesh.points[t[2]][2]}) <
          static_cast<float>(top_mm))
        mesh.triangles.push_back(t);
    }
  }
  if (mesh.triangles.empty())
    throw std::runtime_error(path + ": no triangles");
  return mesh;
}

Point centre(const Mesh& mesh, std::size_t i) {
  Point c{0, 0, 0};
  for (const std::uint32_t v : mesh.triangles[i])
    for (std::size_t k = 0; k < 3; ++k)
      c[k] += mesh.points[v][k] / 3;
  return c;
}

double seconds() {
  using Clock = std::chrono::steady_clock;
  static const Clock::time_point start = Clock::now();
  return std::chrono::duration<double>(Clock::now() - start).count();
}

void report(const Call& call, double read_s, double work_s,
            const std::vector<float>& distances_mm) {
  fmt::print("{{\"read_s\": {:.4f}, \"work_s\": {:.4f}, \"least_mm\": {:.6f}, \"threads\": {}}}\n",
             read_s, work_s, *std::min_element(distances_mm.begin(), distances_mm.end()),
             thread_count(call));
  if (call.distances.empty())
    return;
  std::ofstream out(call.distances, std::ios::binary);
  out.write(reinterpret_cast<const char*>(distances_mm.data()),
            static_cast<std::streamsize>(distances_mm.size() * sizeof(float)));
}

int thread_count(const Call& call) {
  return call.threads > 0 ? call.threads : static_cast<int>(std::thread::hardware_concurrency());
}

} // namespace bench
