// Binary STL against its layout, and read back.
#include "report/mesh/stl_mesh.h"

#include "mesh/load/load_mesh.h"
#include "support/shapes.h"
#include "support/temp_dir.h"

#include <cstring>
#include <doctest/doctest.h>

using namespace leastwall;
using namespace leastwall::test;

// Source: 3D Systems, StereoLithography interface specification, 1989: 80 bytes, a count, 50 a
// facet.
TEST_CASE("an STL file has its count, unit normals and corners, and is read as the same body") {
  const TriMesh box = shapes::box({-1, -2, -3}, {4, 5, 6});
  const std::string bytes = stl_bytes(box);
  REQUIRE(bytes.size() == 84 + 50 * box.triangles.size());
  CHECK(bytes.compare(0, 5, "solid") != 0);
  std::uint32_t count = 0;
  std::memcpy(&count, bytes.data() + 80, 4);
  CHECK(count == 12);
  for (std::size_t t = 0; t < count; ++t) {
    float facet[12];
    std::memcpy(facet, bytes.data() + 84 + 50 * t, sizeof facet);
    const Vec3 n{static_cast<double>(facet[0]), static_cast<double>(facet[1]),
                 static_cast<double>(facet[2])};
    CHECK(length(n) == doctest::Approx(1));
    const Vec3 corner{static_cast<double>(facet[3]), static_cast<double>(facet[4]),
                      static_cast<double>(facet[5])};
    CHECK(corner == box.vertices[box.triangles[t][0]]);
  }
  TempDir dir;
  const auto file = dir.file("box.stl", bytes);
  const LoadedMesh read = load_mesh(file, {}, {});
  CHECK(read.findings.sound());
  CHECK(read.mesh.triangles.size() == 12);
  CHECK(read.findings.box.low == box.box().low);
  CHECK(read.findings.box.high == box.box().high);
}
