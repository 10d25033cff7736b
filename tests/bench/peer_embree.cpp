// Peer: Embree's point query with TBB, every query from scratch and without any limit on the
// radius. Nearest point of a triangle: by regions, Ericson, Real-Time Collision Detection
// (2005), 5.1.5.
#include "bench/run_peer.h"

#include <cmath>
#include <cstring>
#include <embree3/rtcore.h>
#include <limits>
#include <memory>
#include <stdexcept>

namespace {

struct V {
  float x, y, z;
};
V operator-(V a, V b) {
  return {a.x - b.x, a.y - b.y, a.z - b.z};
}
V operator+(V a, V b) {
  return {a.x + b.x, a.y + b.y, a.z + b.z};
}
V operator*(float s, V a) {
  return {s * a.x, s * a.y, s * a.z};
}
float dot(V a, V b) {
  return a.x * b.x + a.y * b.y + a.z * b.z;
}

V nearest(V p, V a, V b, V c) {
  const V ab = b - a, ac = c - a, ap = p - a;
  const float d1 = dot(ab, ap), d2 = dot(ac, ap);
  if (d1 <= 0 && d2 <= 0)
    return a;
  const V bp = p - b;
  const float d3 = dot(ab, bp), d4 = dot(ac, bp);
  if (d3 >= 0 && d4 <= d3)
    return b;
  const float vc = d1 * d4 - d3 * d2;
  if (vc <= 0 && d1 >= 0 && d3 <= 0)
    return a + (d1 / (d1 - d3)) * ab;
  const V cp = p - c;
  const float d5 = dot(ab, cp), d6 = dot(ac, cp);
  if (d6 >= 0 && d5 <= d6)
    return c;
  const float vb = d5 * d2 - d1 * d6;
  if (vb <= 0 && d2 >= 0 && d6 <= 0)
    return a + (d2 / (d2 - d6)) * ac;
  const float va = d3 * d6 - d5 * d4;
  if (va <= 0 && d4 - d3 >= 0 && d5 - d6 >= 0)
    return b + ((d4 - d3) / ((d4 - d3) + (d5 - d6))) * (c - b);
  const float sum = va + vb + vc;
  return a + (vb / sum) * ab + (vc / sum) * ac;
}

struct Built {
  const bench::Mesh* mesh = nullptr;
  RTCDevice device = nullptr;
  RTCScene scene = nullptr;
  Built() = default;
  Built(const Built&) = delete;
  Built& operator=(const Built&) = delete;
  ~Built() {
    rtcReleaseScene(scene);
    rtcReleaseDevice(device);
  }
};

std::unique_ptr<Built> build(const bench::Call&, const bench::Mesh& pocket) {
  auto built = std::make_unique<Built>();
  built->mesh = &pocket;
  built->device = rtcNewDevice(nullptr);
  built->scene = rtcNewScene(built->device);
  RTCGeometry geometry = rtcNewGeometry(built->device, RTC_GEOMETRY_TYPE_TRIANGLE);
  void* points = rtcSetNewGeometryBuffer(geometry, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT3,
                                         sizeof(bench::Point), pocket.points.size());
  void* triangles = rtcSetNewGeometryBuffer(geometry, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT3,
                                            3 * sizeof(std::uint32_t), pocket.triangles.size());
  if (!points || !triangles)
    throw std::runtime_error("Embree has no memory");
  std::memcpy(points, pocket.points.data(), pocket.points.size() * sizeof(bench::Point));
  std::memcpy(triangles, pocket.triangles.data(),
              pocket.triangles.size() * 3 * sizeof(std::uint32_t));
  rtcCommitGeometry(geometry);
  rtcAttachGeometry(built->scene, geometry);
  rtcReleaseGeometry(geometry);
  rtcCommitScene(built->scene);
  return built;
}

struct Best {
  const bench::Mesh* mesh;
  float squared;
};

V corner(const bench::Mesh& mesh, std::uint32_t i) {
  return {mesh.points[i][0], mesh.points[i][1], mesh.points[i][2]};
}

bool look(RTCPointQueryFunctionArguments* args) {
  Best& best = *static_cast<Best*>(args->userPtr);
  const auto& t = best.mesh->triangles[args->primID];
  const V p{args->query->x, args->query->y, args->query->z};
  const V away =
      p - nearest(p, corner(*best.mesh, t[0]), corner(*best.mesh, t[1]), corner(*best.mesh, t[2]));
  const float squared = dot(away, away);
  if (!(squared < best.squared))
    return false;
  best.squared = squared;
  args->query->radius = std::sqrt(squared);
  return true;
}

auto ask(const Built& built) {
  return [&built](const bench::Point& p) {
    RTCPointQuery query{p[0], p[1], p[2], 0, std::numeric_limits<float>::infinity()};
    RTCPointQueryContext context;
    rtcInitPointQueryContext(&context);
    Best best{built.mesh, std::numeric_limits<float>::infinity()};
    rtcPointQuery(built.scene, &query, &context, look, &best);
    return std::sqrt(best.squared);
  };
}

} // namespace

int main(int argc, char** argv) {
  return bench::run_peer(argc, argv, build, ask);
}
