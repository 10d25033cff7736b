#include "mesh/load/read_mesh_file.h"

#include "base/file/refuse_file.h"
#include "mesh/formats/ply_header.h"
#include "mesh/formats/read_gltf.h"
#include "mesh/formats/read_obj.h"
#include "mesh/formats/read_off.h"
#include "mesh/formats/read_ply.h"
#include "mesh/formats/read_stl_ascii.h"
#include "mesh/formats/read_stl_binary.h"
#include "mesh/formats/read_threemf.h"
#include "mesh/importing/check_collada.h"
#include "mesh/importing/collada_faces.h"
#include "mesh/importing/collada_up.h"
#include "mesh/importing/import_mesh.h"
#include "mesh/syntax/text_scanner.h"

#include <fmt/format.h>

namespace leastwall {
namespace {

std::string extension_of(const std::filesystem::path& file) {
  std::string extension = file.extension().string();
  for (char& c : extension)
    if (c >= 'A' && c <= 'Z')
      c = static_cast<char>(c + 32);
  return extension;
}

bool starts_with(std::string_view bytes, std::string_view magic) {
  return bytes.substr(0, magic.size()) == magic;
}

FileMesh read_stl(const MappedFile& file, const RunContext& run) {
  // The size decides before the word "solid" does: binary headers may begin with it.
  if (!has_binary_stl_size(file.text()) && looks_like_ascii_stl(file.text()))
    return read_stl_ascii(file, run);
  if (starts_with(file.text(), std::string_view("s\0o\0l\0i\0d", 9)) ||
      starts_with(file.text(), std::string_view("\xff\xfes\0o\0", 6)) ||
      starts_with(file.text(), std::string_view("\xfe\xff\0s\0o", 6)))
    refuse_file(file.path(), "is STL text in UTF-16", "save it as plain ASCII");
  return read_stl_binary(file, run);
}

/// COLLADA. A mesh without some of its faces is not that mesh: what comes out of the import is held
/// against what the file places.
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

} // namespace

FileMesh read_mesh_file(const MappedFile& file, const LoadOptions& options, const RunContext& run) {
  const std::string_view bytes = file.text();
  const std::string extension = extension_of(file.path());
  if (looks_like_ply(bytes))
    return read_ply(file, run);
  const bool other_magic = starts_with(bytes, "PK\x03\x04") || starts_with(bytes, "glTF");
  if (extension == ".stl" || (has_binary_stl_size(bytes) && !other_magic) ||
      (extension.empty() && looks_like_ascii_stl(bytes)))
    return read_stl(file, run);
  if (extension == ".obj" && !other_magic)
    return read_obj(file, run);
  if (extension == ".off" && !other_magic)
    return read_off(file, run);
  if (extension == ".3mf" && starts_with(bytes, "PK\x03\x04"))
    return read_threemf(file, options.import_memory_bytes, run);
  if (extension == ".gltf" || starts_with(bytes, "glTF"))
    return read_gltf(file, options.import_memory_bytes, run);
  if (extension == ".dae" && !other_magic)
    return import_collada(file, options, run);
  refuse_file(file.path(), fmt::format("\"{}\" is not a mesh format that is read here", extension),
              "export the mesh as binary STL, PLY, OBJ, OFF, 3MF, glTF or COLLADA");
}

} // namespace leastwall
