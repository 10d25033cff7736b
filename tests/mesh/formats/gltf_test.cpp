// glTF files good and bad. glTF is in metres (Khronos, glTF 2.0 Specification, 3.4). Expected
// numbers: the box of 10 x 20 x 0.8 mm has a volume of 160.
#include "support/load_helpers.h"
#include "support/mesh_files.h"
#include "support/temp_dir.h"

#include <chrono>
#include <cmath>
#include <limits>
#include <sys/stat.h>

using namespace leastwall;
using namespace leastwall::test;

namespace {

struct GltfOptions {
  std::string node; ///< more members of the node
  std::string uri = "b.bin";
  int mode = 4;
  std::string scene_nodes = "[0]";
  std::string offset = "0";   ///< of the positions' accessor
  std::string root{};         ///< more members of the file, each with a comma after it
  std::string shape = "VEC3"; ///< of the positions
  int component = 5126;
  std::string accessor{}; ///< more members of the positions' accessor
};

std::string gltf_text(const TriMesh& m, const GltfOptions& o = {}) {
  const std::size_t positions = m.vertices.size() * 12, indices = m.triangles.size() * 12;
  return fmt::format(
      R"({{{}"asset":{{"version":"2.0"}},"scene":0,"scenes":[{{"nodes":{}}}],)"
      R"("nodes":[{{"mesh":0{}}}],)"
      R"("meshes":[{{"primitives":[{{"attributes":{{"POSITION":0}},"indices":1,"mode":{}}}]}}],)"
      R"("buffers":[{{"uri":"{}","byteLength":{}}}],)"
      R"("bufferViews":[{{"buffer":0,"byteOffset":0,"byteLength":{}}},)"
      R"({{"buffer":0,"byteOffset":{},"byteLength":{}}}],)"
      R"("accessors":[{{"bufferView":0,"byteOffset":{},"componentType":{},"count":{},)"
      R"("type":"{}"{},"min":[0,0,0],"max":[10,20,1]}},)"
      R"({{"bufferView":1,"componentType":5125,"count":{},"type":"SCALAR"}}]}})",
      o.root, o.scene_nodes, o.node, o.mode, o.uri, positions + indices, positions, positions,
      indices, o.offset, o.component, m.vertices.size(), o.shape, o.accessor,
      m.triangles.size() * 3);
}

std::string gltf_buffer(const TriMesh& m) {
  std::string bytes;
  for (const Vec3& v : m.vertices)
    for (const double c : {v.x, v.y, v.z})
      append_raw(bytes, static_cast<float>(c));
  for (const Tri& t : m.triangles)
    for (const std::uint32_t k : t)
      append_raw(bytes, k);
  return bytes;
}

LoadedMesh load_gltf(const TempDir& dir, const GltfOptions& o = {}) {
  dir.file("b.bin", gltf_buffer(box_mesh({0.01, 0.02, 0.0008})));
  return load(dir.file("d.gltf", gltf_text(box_mesh(), o)));
}

std::string refuse_gltf(const TempDir& dir, const GltfOptions& o) {
  return refusal(dir.file("bad.gltf", gltf_text(box_mesh(), o)));
}

} // namespace

TEST_CASE("glTF: metres, node transforms, mirrored nodes") {
  const TempDir dir;
  const LoadedMesh m = load_gltf(dir);
  CHECK(m.format == "glTF");
  CHECK(m.unit == "metre");
  CHECK(m.unit_stated);
  CHECK(has_notice(m, "y-up"));
  CHECK(m.findings.closed());
  CHECK(m.findings.components[0].signed_volume_mm3 == doctest::Approx(160).epsilon(1e-5));
  const LoadedMesh mirrored = load_gltf(dir, {R"(,"scale":[-1,1,1])"});
  CHECK(mirrored.findings.components[0].signed_volume_mm3 == doctest::Approx(160).epsilon(1e-5));
  CHECK(mirrored.findings.box.low.x == doctest::Approx(-10).epsilon(1e-6));
  const LoadedMesh large = load_gltf(dir, {R"(,"scale":[1000,1000,1000])"});
  CHECK(has_notice(large, "size-odd"));
}

TEST_CASE("glTF: strips are surfaces, lines are not") {
  const TempDir dir;
  CHECK(load_gltf(dir, {"", "b.bin", 5}).mesh.triangles.size() > 0);
  dir.file("b.bin", gltf_buffer(box_mesh()));
  CHECK(contains(refuse_gltf(dir, {"", "b.bin", 1}), "points or lines"));
}

TEST_CASE("glTF: hostile or incomplete ones are refused in one line, at once") {
  const TempDir dir;
  dir.file("b.bin", gltf_buffer(box_mesh()));
  CHECK_FALSE(refuse_gltf(dir, {"", "missing.bin"}).empty());
  CHECK_FALSE(refuse_gltf(dir, {"", "b.bin", 4, "[]"}).empty());
  CHECK_FALSE(refuse_gltf(dir, {"", "b.bin", 4, "[0]", "18446744073709551608"}).empty());
  CHECK(contains(refuse_gltf(dir, {"", "b.bin", 4, "[0]", "4"}), "beyond its buffer view"));
  CHECK(contains(refuse_gltf(dir, {R"(,"matrix":[1])"}), "16 numbers"));
  CHECK(contains(refusal(dir.file("text.gltf", "{\"asset\":")), "well-formed"));
  CHECK(contains(refusal(dir.file("short.glb", std::string("glTF\2\0\0\0\xff\0\0\0", 12))),
                 "too early"));
  TriMesh far = box_mesh();
  far.triangles[11] = {0, 1, 4000000000u};
  dir.file("b.bin", gltf_buffer(far));
  CHECK(contains(refuse_gltf(dir, {}), "names vertex 4000000000 of 8"));
  TriMesh nan = box_mesh();
  nan.vertices[3].z = std::numeric_limits<double>::quiet_NaN();
  dir.file("b.bin", gltf_buffer(nan));
  CHECK(contains(refuse_gltf(dir, {}), "not finite"));
}

TEST_CASE("glTF: no file outside the model's folder is opened, and no pipe") {
  const TempDir dir;
  dir.file("outside.bin", gltf_buffer(box_mesh({0.01, 0.02, 0.0008})));
  const auto inner = [&](const std::string& uri) {
    return dir.file("inner/de.gltf", gltf_text(box_mesh(), {"", uri}));
  };
  CHECK_FALSE(refusal(inner("../outside.bin")).empty());
  std::filesystem::create_symlink("../outside.bin", dir.path() / "inner/link.bin");
  CHECK_FALSE(refusal(inner("link.bin")).empty());
  REQUIRE(::mkfifo((dir.path() / "inner/pipe.bin").c_str(), 0600) == 0);
  const auto start = std::chrono::steady_clock::now();
  CHECK_FALSE(refusal(inner("pipe.bin")).empty());
  CHECK(contains(refusal(dir.path() / "inner/pipe.bin"), "not a regular file"));
  CHECK(std::chrono::steady_clock::now() - start < std::chrono::seconds(5));
  // The same buffer in the folder itself is fine.
  dir.file("inner/b.bin", gltf_buffer(box_mesh({0.01, 0.02, 0.0008})));
  CHECK(load(inner("b.bin")).findings.closed());
}

TEST_CASE("glTF: positions of other shapes and kinds are refused, not read as something else") {
  const TempDir dir;
  dir.file("b.bin", gltf_buffer(box_mesh({0.01, 0.02, 0.0008})));
  GltfOptions o;
  o.shape = "VEC2";
  CHECK(contains(refuse_gltf(dir, o), "\"VEC2\" instead of VEC3"));
  o.shape = "VEC4";
  CHECK_FALSE(refuse_gltf(dir, o).empty());
  o.shape = "SCALAR";
  CHECK(contains(refuse_gltf(dir, o), "instead of VEC3"));
  o.shape = "VEC3";
  for (const int component : {5120, 5121, 5122, 5123, 5125}) {
    CAPTURE(component);
    o.component = component;
    CHECK(contains(refuse_gltf(dir, o), "quantized positions"));
  }
  o.component = 5126;
  o.accessor = R"(,"sparse":{"count":1})";
  CHECK(contains(refuse_gltf(dir, o), "not read here"));
}

TEST_CASE("glTF: extensions that a file needs are refused unless they change only looks") {
  const TempDir dir;
  dir.file("b.bin", gltf_buffer(box_mesh({0.01, 0.02, 0.0008})));
  const auto needs = [&](const char* name) {
    GltfOptions o;
    o.root = fmt::format(R"("extensionsRequired":["{}"],)", name);
    return refuse_gltf(dir, o);
  };
  for (const char* name : {"KHR_mesh_quantization", "KHR_draco_mesh_compression",
                           "EXT_meshopt_compression", "EXT_mesh_gpu_instancing", "MADE_UP"})
    CHECK(contains(needs(name), fmt::format("needs the extension \"{}\"", name)));
  for (const char* name : {"KHR_materials_unlit", "KHR_texture_transform", "KHR_lights_punctual"})
    CHECK(needs(name).empty());
  CHECK(contains(refuse_gltf(dir, {R"(,"extensions":{"EXT_mesh_gpu_instancing":{}})"}),
                 "EXT_mesh_gpu_instancing"));
  CHECK(contains(refuse_gltf(dir, {R"(,"skin":0)"}), "skeleton"));
  CHECK(contains(refuse_gltf(dir, {R"(,"weights":[0,0.5])"}), "morph targets"));
  CHECK(refuse_gltf(dir, {R"(,"weights":[0,0])"}).empty());
}

TEST_CASE("glTF: nodes are scaled, then turned, then shifted; a matrix is read by columns") {
  const TempDir dir;
  // A quarter turn about z takes x to y and y to -x: (10, 20, 0.8) mm twice as long in x.
  const std::string half = fmt::format("{}", std::sqrt(0.5));
  const LoadedMesh turned = load_gltf(dir, {",\"scale\":[2,1,1],\"rotation\":[0,0," + half + "," +
                                            half + "],\"translation\":[0,0,0.1]"});
  const LoadedMesh matrix = load_gltf(dir, {R"(,"matrix":[0,2,0,0,-1,0,0,0,0,0,1,0,0,0,0.1,1])"});
  for (const LoadedMesh* m : {&turned, &matrix}) {
    CHECK(m->findings.components[0].signed_volume_mm3 == doctest::Approx(320).epsilon(1e-5));
    CHECK(m->findings.box.low.x == doctest::Approx(-20).epsilon(1e-6));
    CHECK(m->findings.box.high.y == doctest::Approx(20).epsilon(1e-6));
    CHECK(m->findings.box.low.z == doctest::Approx(100).epsilon(1e-6));
    CHECK(m->findings.box.high.z == doctest::Approx(100.8).epsilon(1e-6));
  }
  CHECK(contains(refuse_gltf(dir, {R"(,"rotation":[0,0,1,1])"}), "no unit quaternion"));
  CHECK(contains(refuse_gltf(dir, {R"(,"scale":[1,1,0])"}), "flattens the mesh"));
  CHECK(contains(refuse_gltf(dir, {R"(,"matrix":[1,0,0,1,0,1,0,0,0,0,1,0,0,0,0,1])"}), "last row"));
}

TEST_CASE("glTF: nodes that stand twice or within themselves, meshes that nothing places") {
  const TempDir dir;
  dir.file("b.bin", gltf_buffer(box_mesh({0.01, 0.02, 0.0008})));
  CHECK(contains(refuse_gltf(dir, {"", "b.bin", 4, "[0,0]"}), "more than one place"));
  CHECK(contains(refuse_gltf(dir, {R"(,"children":[0])"}), "more than one place"));
  CHECK(contains(refuse_gltf(dir, {R"(,"children":[7])"}), "node 7 is not there"));
  CHECK(contains(refuse_gltf(dir, {"", "b.bin", 4, "[]"}), "places no mesh"));
  const std::string two = replaced(gltf_text(box_mesh()), "\"meshes\":[", "\"meshes\":[{},");
  const LoadedMesh m = load(dir.file("two.gltf", replaced(two, "\"mesh\":0", "\"mesh\":1")));
  CHECK(m.mesh.triangles.size() == 12);
  CHECK(has_notice(m, "not-placed"));
}

TEST_CASE(
    "glTF: bytes within the text, names of files with blanks, short indices, fans and strips") {
  const TempDir dir;
  dir.file("a b.bin", gltf_buffer(box_mesh({0.01, 0.02, 0.0008})));
  CHECK(load(dir.file("d.gltf", gltf_text(box_mesh(), {"", "a%20b.bin"}))).findings.closed());
  CHECK(contains(refuse_gltf(dir, {"", "data:application/octet-stream,AAAA"}), "shorter"));
  // A square of two triangles: positions, then its corners as bytes. Area 1 m2.
  const auto square = [&](int mode, const std::string& corners) {
    std::string bytes;
    for (const float c : {0.F, 0.F, 0.F, 1.F, 0.F, 0.F, 1.F, 1.F, 0.F, 0.F, 1.F, 0.F})
      append_raw(bytes, c);
    dir.file("s.bin", bytes + corners);
    return dir.file(
        "s.gltf",
        fmt::format(
            R"({{"asset":{{"version":"2.0"}},"scenes":[{{"nodes":[0]}}],"nodes":[{{"mesh":0}}],)"
            R"("meshes":[{{"primitives":[{{"attributes":{{"POSITION":0}},"indices":1,"mode":{}}}]}}],)"
            R"("buffers":[{{"uri":"s.bin","byteLength":{}}}],"bufferViews":[)"
            R"({{"buffer":0,"byteLength":48}},{{"buffer":0,"byteOffset":48,"byteLength":{}}}],)"
            R"("accessors":[{{"bufferView":0,"componentType":5126,"count":4,"type":"VEC3"}},)"
            R"({{"bufferView":1,"componentType":5121,"count":{},"type":"SCALAR"}}]}})",
            mode, 48 + corners.size(), corners.size(), corners.size()));
  };
  using namespace std::string_literals;
  for (const auto& [mode, corners] :
       {std::pair{4, "\0\1\2\0\2\3"s}, {5, "\0\1\3\2"s}, {6, "\0\1\2\3"s}}) {
    const int shown = mode;
    CAPTURE(shown);
    const LoadedMesh m = load(square(mode, corners));
    CHECK(m.mesh.triangles.size() == 2);
    CHECK(m.findings.area_mm2 == doctest::Approx(1e6));
    CHECK(m.findings.misoriented_edges == 0);
    for (const Tri& t : m.mesh.triangles) // all look up, as drawn
      CHECK(cross(m.mesh.vertices[t[1]] - m.mesh.vertices[t[0]],
                  m.mesh.vertices[t[2]] - m.mesh.vertices[t[0]])
                .z > 0);
  }
  CHECK(contains(refusal(square(4, "\0\1\2\0\2"s)), "no whole triangles"));
  CHECK(contains(refusal(square(4, "\0\1\2\0\2\4"s)), "names vertex 4 of 4"));
  CHECK(contains(refusal(square(7, "\0\1\2"s)), "unknown mode 7"));
}
