#include "mesh/mesh_notices.h"

#include <algorithm>
#include <fmt/format.h>

namespace leastwall {
namespace {

bool lies_within(const Box& inner, const Box& outer) {
  return inner.low.x >= outer.low.x && inner.low.y >= outer.low.y && inner.low.z >= outer.low.z &&
         inner.high.x <= outer.high.x && inner.high.y <= outer.high.y &&
         inner.high.z <= outer.high.z;
}

void describe_turned_pieces(const MeshFindings& findings, std::vector<Notice>& notices) {
  std::size_t inverted = 0, hollows = 0;
  for (const MeshComponent& piece : findings.components) {
    if (!piece.closed || !piece.oriented || !(piece.signed_volume_mm3 < 0))
      continue;
    const bool inside_another = std::any_of(
        findings.components.begin(), findings.components.end(), [&](const MeshComponent& other) {
          return &other != &piece && other.closed && other.signed_volume_mm3 > 0 &&
                 lies_within(piece.box, other.box);
        });
    ++(inside_another ? hollows : inverted);
  }
  if (inverted > 0)
    notices.push_back(
        {"inside-out", fmt::format("{} closed {} inwards. The wall does not depend on it; flip the "
                                   "normals in the modeller to be rid of this notice.",
                                   inverted, inverted == 1 ? "piece looks" : "pieces look")});
  if (hollows > 0)
    notices.push_back(
        {"hollow-piece", fmt::format("{} closed {} inwards within another: a hollow. A cutter from "
                                     "above cannot reach it; delete it if it is a leftover.",
                                     hollows, hollows == 1 ? "piece looks" : "pieces look")});
}

void describe_size(const MeshFindings& findings, std::vector<Notice>& notices) {
  const double diagonal = length(findings.box.size());
  if (diagonal < 1)
    notices.push_back(
        {"size-odd", fmt::format("The mesh is only {:.3g} mm across. If its numbers are metres it "
                                 "is 1000 times larger, if inches 25.4 times: export in "
                                 "millimetres or state the unit.",
                                 diagonal)});
  if (diagonal > 5000)
    notices.push_back(
        {"size-odd", fmt::format("The mesh is {:.4g} mm across. If millimetres were taken for "
                                 "inches it is 25.4 times smaller, if for metres 1000 times: "
                                 "check the unit.",
                                 diagonal)});
}

std::string edges(std::size_t count) {
  return fmt::format("{} {}", count, count == 1 ? "edge" : "edges");
}

} // namespace

std::vector<Notice> mesh_notices(const MeshFindings& f) {
  std::vector<Notice> notices;
  if (f.degenerate_dropped > 0)
    notices.push_back({"degenerate-facets",
                       fmt::format("{} {} without area left out.", f.degenerate_dropped,
                                   f.degenerate_dropped == 1 ? "facet was" : "facets were")});
  if (f.doubled_dropped > 0)
    notices.push_back(
        {"doubled-facets",
         fmt::format("{} {} already there and left out. Look for a part that was "
                     "copied onto itself.",
                     f.doubled_dropped, f.doubled_dropped == 1 ? "facet was" : "facets were")});
  if (f.boundary_edges > 0)
    notices.push_back(
        {"open-edges",
         fmt::format("The mesh is open: {} with one facet, the longest run {:.3f} mm. A relief "
                     "sheet is open by nature; a solid should be closed in the modeller.",
                     edges(f.boundary_edges), f.longest_boundary_loop_mm)});
  if (f.nonmanifold_edges > 0)
    notices.push_back(
        {"nonmanifold-edges",
         fmt::format("{} {} more than two facets. Look for walls without "
                     "thickness and pieces that touch along an edge.",
                     edges(f.nonmanifold_edges), f.nonmanifold_edges == 1 ? "has" : "have")});
  if (f.misoriented_edges > 0)
    notices.push_back({"misoriented-facets",
                       fmt::format("Facets look in opposite directions across {}. The wall "
                                   "does not depend on it; unify the normals in the modeller to be "
                                   "rid of this notice.",
                                   edges(f.misoriented_edges))});
  describe_turned_pieces(f, notices);
  if (f.components.size() > 1)
    notices.push_back(
        {"several-pieces",
         fmt::format("The mesh has {} separate pieces, the largest with {} facets. All "
                     "are used; delete leftovers that are not to be carved.",
                     f.components.size(), f.components.front().triangles)});
  describe_size(f, notices);
  return notices;
}

} // namespace leastwall
