// Real files of Debian's package assimp-testmodels. Counts: facets as the files state them; the
// same model in several formats must give the same numbers.
#include "support/load_helpers.h"

#include <filesystem>

using namespace leastwall;
using namespace leastwall::test;

namespace {

const std::filesystem::path kModels = "/usr/share/assimp/models";

bool absent() {
  if (std::filesystem::exists(kModels))
    return false;
  MESSAGE("assimp-testmodels is not installed: real files are not tried");
  return true;
}

} // namespace

TEST_CASE("one model as STL, OBJ and OFF gives the same surface") {
  if (absent())
    return;
  const LoadedMesh stl = load(kModels / "STL/Wuson.stl");
  CHECK(stl.mesh.triangles.size() == 3732);
  for (const char* name : {"OBJ/WusonOBJ.obj", "OFF/Wuson.off"}) {
    const LoadedMesh other = load(kModels / name);
    CHECK(other.mesh.triangles.size() == 3732);
    CHECK(other.mesh.vertices.size() == stl.mesh.vertices.size());
    CHECK(other.findings.boundary_edges == stl.findings.boundary_edges);
    CHECK(other.findings.area_mm2 == doctest::Approx(stl.findings.area_mm2).epsilon(1e-5));
  }
  const LoadedMesh ascii = load(kModels / "STL/Spider_ascii.stl");
  const LoadedMesh binary = load(kModels / "STL/Spider_binary.stl");
  CHECK(ascii.mesh.triangles.size() == binary.mesh.triangles.size());
  CHECK(ascii.findings.area_mm2 == doctest::Approx(binary.findings.area_mm2).epsilon(1e-5));
}

TEST_CASE("solids, holes and several solids in real STL files") {
  if (absent())
    return;
  const LoadedMesh holed = load(kModels / "STL/sphereWithHole.stl");
  CHECK(holed.mesh.triangles.size() == 285);
  CHECK(holed.findings.boundary_edges == 9);
  CHECK(load(kModels / "STL/triangle_with_two_solids.stl").mesh.triangles.size() == 2);
  CHECK(load(kModels / "STL/triangle_with_empty_solid.stl").mesh.triangles.size() == 1);
}

TEST_CASE("a real 3MF, PLY cubes and a binary glTF") {
  if (absent())
    return;
  const LoadedMesh box = load(kModels / "3MF/box.3mf");
  CHECK(box.findings.components[0].signed_volume_mm3 == doctest::Approx(10.0 * 20 * 30));
  for (const char* name : {"PLY/cube.ply", "PLY/cube_binary.ply"})
    CHECK(load(kModels / name).findings.components[0].signed_volume_mm3 == doctest::Approx(1));
  const LoadedMesh glb = load(kModels / "glTF2/BoxTextured-glTF-Binary/BoxTextured.glb");
  CHECK(glb.format == "binary glTF");
  CHECK(glb.findings.components[0].signed_volume_mm3 ==
        doctest::Approx(1e9)); // a cube of one metre
}

TEST_CASE("hostile real files come back as one line") {
  if (absent())
    return;
  LoadOptions limits;
  limits.import_timeout_s = 10;
  limits.import_memory_bytes = std::uint64_t{1} << 30;
  for (const char* name :
       {"glTF2/BoxWithInfinites-glTF-Binary/BoxWithInfinites.glb",
        "glTF2/IndexOutOfRange/IndexOutOfRange.gltf",
        "glTF2/IndexOutOfRange/AllIndicesOutOfRange.gltf",
        "glTF2/RecursiveNodes/RecursiveNodes.gltf", "invalid/OutOfMemory.off", "invalid/empty.ply",
        "invalid/malformed.obj", "OFF/invalid.off", "PLY/points.ply", "OBJ/point_cloud.obj"}) {
    CAPTURE(name);
    if (!std::filesystem::exists(kModels / name)) {
      MESSAGE("not in this package: " << name);
      continue;
    }
    CHECK_FALSE(refusal(kModels / name, limits).empty());
  }
}
