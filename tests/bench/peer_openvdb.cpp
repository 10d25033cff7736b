// Peer: OpenVDB alone. An unsigned distance field of the pocket in a narrow band, read between
// voxel centres by trilinear interpolation. Points beyond the band get the band's width.
#include "bench/run_peer.h"

#include <memory>
#include <openvdb/openvdb.h>
#include <openvdb/tools/Interpolation.h>
#include <openvdb/tools/MeshToVolume.h>

namespace {

struct Built {
  openvdb::FloatGrid::Ptr field;
};

std::unique_ptr<Built> build(const bench::Call& call, const bench::Mesh& pocket) {
  openvdb::initialize();
  std::vector<openvdb::Vec3s> points;
  points.reserve(pocket.points.size());
  for (const bench::Point& p : pocket.points)
    points.emplace_back(p[0], p[1], p[2]);
  std::vector<openvdb::Vec3I> triangles;
  triangles.reserve(pocket.triangles.size());
  for (const auto& t : pocket.triangles)
    triangles.emplace_back(t[0], t[1], t[2]);
  auto built = std::make_unique<Built>();
  built->field = openvdb::tools::meshToUnsignedDistanceField<openvdb::FloatGrid>(
      *openvdb::math::Transform::createLinearTransform(call.voxel_mm), points, triangles, {},
      static_cast<float>(call.band_mm / call.voxel_mm));
  return built;
}

auto ask(const Built& built) {
  using Sampler =
      openvdb::tools::GridSampler<openvdb::FloatGrid::ConstAccessor, openvdb::tools::BoxSampler>;
  auto access =
      std::make_shared<openvdb::FloatGrid::ConstAccessor>(built.field->getConstAccessor());
  return [access, sampler = Sampler(*access, built.field->transform())](const bench::Point& p) {
    return sampler.wsSample(openvdb::Vec3R(double{p[0]}, double{p[1]}, double{p[2]}));
  };
}

} // namespace

int main(int argc, char** argv) {
  return bench::run_peer(argc, argv, build, ask);
}
