// The committed demo meshes are what their generator writes, and small enough to commit.
#include "mesh/load/load_mesh.h"

#include "support/temp_dir.h"

#include <cstdlib>
#include <doctest/doctest.h>
#include <filesystem>

using namespace leastwall;

TEST_CASE("demo meshes: the generator still makes the committed files") {
  const test::TempDir fresh;
  const std::filesystem::path committed = std::filesystem::path(LEASTWALL_SOURCE_DIR) / "meshes";
  for (const char* shape : {"gourd", "leaf"}) {
    const std::string call = std::string(LEASTWALL_BUILD_DIR) + "/meshes/make_demo_meshes " +
                             shape + " '" + fresh.path().string() + "' > /dev/null";
    REQUIRE(std::system(call.c_str()) == 0);
  }
  for (const char* name :
       {"gourd_pocket.stl", "gourd_skin.stl", "leaf_back.ply", "leaf_front.ply"}) {
    CHECK(std::filesystem::file_size(committed / name) < 4u << 20);
    const TriMesh a = load_mesh(committed / name, {}, {}).mesh;
    const TriMesh b = load_mesh(fresh.path() / name, {}, {}).mesh;
    REQUIRE(a.triangles == b.triangles);
    double furthest = 0;
    for (std::size_t i = 0; i < a.vertices.size(); ++i)
      furthest = std::max(furthest, distance(a.vertices[i], b.vertices[i]));
    CHECK(furthest < 1e-4);
  }
}
