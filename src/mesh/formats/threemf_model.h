// The model part of a 3MF file as it stands there. Source: 3MF Consortium, "3D Manufacturing Format
// Core Specification", 1.3: model, resources, object, mesh, components, build, item.
#pragma once

#include "base/file/mapped_file.h"
#include "base/run_context.h"
#include "mesh/polygon_soup.h"
#include "space/affine.h"

#include <cstdint>
#include <string>
#include <vector>

namespace leastwall {

/// An object, placed by a build item or as part of another object.
struct ThreemfPlacing {
  std::size_t object = 0; ///< its place in ThreemfModel::objects
  Affine map;
};

struct ThreemfObject {
  std::uint64_t id = 0;
  bool solid = true; ///< of type model or solidsupport; of type support, surface or other it is not
  bool has_mesh = false;
  PolygonSoup mesh;                       ///< triangles, in the file's unit
  std::vector<ThreemfPlacing> components; ///< all of them stand earlier in the file
  std::size_t levels = 1;                 ///< of components within components, this one included
  std::uint64_t facets = 0;               ///< of its mesh and all that it places
};

struct ThreemfModel {
  double mm_per_unit = 1; ///< millimetre is what the specification says when no unit is given
  std::string unit = "millimetre";
  std::vector<ThreemfObject> objects;
  std::vector<ThreemfPlacing> items, not_printable; ///< of the build; `printable="0"`
};

/// Strict. Throws InputError when the archive or its model part is damaged, when a number is none
/// or names nothing, when an object holds neither mesh nor components, when objects lie in other
/// parts of the archive (production extension), when the file needs an extension that changes the
/// surface, or when the meshes take more than `max_bytes`.
ThreemfModel read_threemf_model(const MappedFile& file, std::uint64_t max_bytes,
                                const RunContext& run);

} // namespace leastwall
