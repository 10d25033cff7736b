// The reference that least walls are compared with: least distance between the two surfaces,
// triangle against triangle, by FCL in doubles. Shares no code with the program. Lids are left out
// first.
#include "bench/pair.h"

#include <cstdio>
#include <exception>
#include <fcl/geometry/bvh/BVH_model.h>
#include <fcl/narrowphase/distance.h>
#include <fmt/format.h>
#include <memory>
#include <stdexcept>

namespace {

using Boxes = fcl::BVHModel<fcl::OBBRSSd>;

std::unique_ptr<Boxes> boxes_of(const bench::Mesh& mesh) {
  std::vector<fcl::Vector3d> points;
  std::vector<fcl::Triangle> facets;
  for (const bench::Point& p : mesh.points)
    points.emplace_back(double{p[0]}, double{p[1]}, double{p[2]});
  for (const auto& t : mesh.triangles)
    facets.emplace_back(t[0], t[1], t[2]);
  auto boxes = std::make_unique<Boxes>();
  boxes->beginModel(static_cast<int>(facets.size()), static_cast<int>(points.size()));
  boxes->addSubModel(points, facets);
  if (boxes->endModel() != fcl::BVH_OK)
    throw std::runtime_error("FCL does not take the mesh");
  return boxes;
}

} // namespace

int main(int argc, char** argv) {
  try {
    const bench::Call call = bench::read_call(argc, argv);
    const auto pocket = boxes_of(bench::read_mesh(call.pocket, call.top_mm));
    const auto skin = boxes_of(bench::read_mesh(call.skin, call.top_mm));
    const fcl::Transform3d here = fcl::Transform3d::Identity();
    fcl::DistanceRequestd request;
    fcl::DistanceResultd result;
    fmt::print("{{\"least_mm\": {:.7f}}}\n",
               fcl::distance<double>(pocket.get(), here, skin.get(), here, request, result));
    return 0;
  } catch (const std::exception& e) {
    fmt::print(stderr, "{}\n", e.what());
    return 3;
  }
}
