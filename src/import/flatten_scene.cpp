#include "import/flatten_scene.h"

#include "mesh/vertex_welder.h"

#include <algorithm>
#include <array>
#include <stdexcept>

namespace leastwall::import {
namespace {

/// Affine map: three rows of four.
struct Affine {
  std::array<std::array<double, 4>, 3> row{};

  static Affine of(const aiMatrix4x4& m) {
    Affine a;
    for (unsigned r = 0; r < 3; ++r)
      for (unsigned c = 0; c < 4; ++c)
        a.row[r][c] = double{m[r][c]};
    return a;
  }
  Affine after(const Affine& inner) const {
    Affine a;
    for (unsigned r = 0; r < 3; ++r)
      for (unsigned c = 0; c < 4; ++c) {
        a.row[r][c] = c == 3 ? row[r][3] : 0;
        for (unsigned k = 0; k < 3; ++k)
          a.row[r][c] += row[r][k] * inner.row[k][c];
      }
    return a;
  }
  Vec3 apply(const aiVector3D& p) const {
    const auto along = [&](unsigned r) {
      return row[r][0] * double{p.x} + row[r][1] * double{p.y} + row[r][2] * double{p.z} +
             row[r][3];
    };
    return {along(0), along(1), along(2)};
  }
  bool mirrors() const {
    const Vec3 x{row[0][0], row[0][1], row[0][2]}, y{row[1][0], row[1][1], row[1][2]},
        z{row[2][0], row[2][1], row[2][2]};
    return dot(x, cross(y, z)) < 0;
  }
};

void place(const aiMesh& mesh, const Affine& map, VertexWelder& welder, FlatScene& flat) {
  if (mesh.mNumFaces == 0 || mesh.mNumVertices == 0 || mesh.mVertices == nullptr ||
      mesh.mFaces == nullptr)
    return;
  ++flat.placed;
  std::vector<std::uint32_t> index(mesh.mNumVertices);
  for (unsigned v = 0; v < mesh.mNumVertices; ++v)
    index[v] = welder.add(map.apply(mesh.mVertices[v]));
  const bool mirrored = map.mirrors();
  for (unsigned f = 0; f < mesh.mNumFaces; ++f) {
    const aiFace& face = mesh.mFaces[f];
    if (flat.corners.size() + face.mNumIndices > 0xffffffffu)
      throw std::runtime_error("the scene has too many faces");
    for (unsigned k = 0; k < face.mNumIndices; ++k) {
      const unsigned corner = face.mIndices[mirrored ? face.mNumIndices - 1 - k : k];
      if (corner >= mesh.mNumVertices)
        throw std::runtime_error("a face names a vertex that is not there");
      flat.corners.push_back(index[corner]);
    }
    flat.sizes.push_back(face.mNumIndices);
  }
}

} // namespace

FlatScene flatten_scene(const aiScene& scene) {
  FlatScene flat;
  VertexWelder welder;
  std::vector<bool> used(scene.mNumMeshes, false);
  struct Visit {
    const aiNode* node;
    Affine map;
  };
  std::vector<Visit> visits;
  if (scene.mRootNode != nullptr)
    visits.push_back({scene.mRootNode, Affine::of(scene.mRootNode->mTransformation)});
  while (!visits.empty()) {
    const Visit visit = visits.back();
    visits.pop_back();
    for (unsigned i = 0; i < visit.node->mNumMeshes; ++i) {
      const unsigned m = visit.node->mMeshes[i];
      if (m >= scene.mNumMeshes || scene.mMeshes[m] == nullptr)
        throw std::runtime_error("a node names a mesh that is not there");
      used[m] = true;
      place(*scene.mMeshes[m], visit.map, welder, flat);
    }
    // Last child first, so that children are taken in the file's order.
    for (unsigned i = visit.node->mNumChildren; i-- > 0;) {
      const aiNode* child = visit.node->mChildren[i];
      if (child != nullptr)
        visits.push_back({child, visit.map.after(Affine::of(child->mTransformation))});
    }
  }
  flat.not_placed = static_cast<std::uint64_t>(std::count(used.begin(), used.end(), false));
  flat.vertices = welder.take_points();
  return flat;
}

} // namespace leastwall::import
