#include "mesh/importing/import_collada.h"

#include "base/file/refuse_file.h"
#include "mesh/importing/check_collada.h"
#include "mesh/importing/collada_faces.h"
#include "mesh/importing/collada_up.h"
#include "mesh/importing/import_mesh.h"
#include "mesh/polygon_soup.h"

#include <fmt/format.h>
#include <utility>

namespace leastwall {

FileMesh import_collada(const MappedFile& file, const LoadOptions& options, const RunContext& run) {
  FileMesh read;
  check_collada(file);
  const FaceCount stated = collada_faces(file);
  if (stated.faces == 0) // the importer would draw the nodes in its place
    refuse_file(file.path(), "COLLADA places no mesh",
                "export the mesh again, best as binary STL or PLY");
  read.format = "COLLADA";
  read.mm_per_unit = 1000; // the import turns the file's unit into metres
  read.unit = "the file's own";
  if (const char up = collada_up(file.text()); up != 'z')
    read.notices.push_back(
        {fmt::format("{}-up", up),
         fmt::format("This COLLADA file has {} up. The axes were kept as they are: turn the model "
                     "(placing.up in a job) if its depth is not along z.",
                     up)});
  read.single_numbers = true;
  ImportedSoup imported = import_mesh(file.path(), options, run);
  const FaceCount came{imported.soup.sizes.size(), imported.soup.corners.size()};
  if (came != stated)
    refuse_file(file.path(),
                fmt::format("the importer made {} faces with {} corners of the {} with {} that the "
                            "file places",
                            came.faces, came.corners, stated.faces, stated.corners),
                "export the mesh again, best as binary STL or PLY");
  if (imported.not_placed > 0)
    read.notices.push_back(
        {"not-placed", fmt::format("{} of the meshes in the file are not placed in "
                                   "its scene and were left out.",
                                   imported.not_placed)});
  if (imported.remarks > 0)
    read.notices.push_back(
        {"import-remarks",
         fmt::format(
             "The importer made {} {}, first: {}. Compare facets and box with the modeller's.",
             imported.remarks, imported.remarks == 1 ? "remark" : "remarks",
             one_line(imported.first_remark, 160))});
  take_polygons(file.path(), std::move(imported.soup), read);
  return read;
}

} // namespace leastwall
