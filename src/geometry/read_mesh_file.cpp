#include "geometry/read_mesh_file.h"

#include "geometry/check_collada.h"
#include "geometry/check_gltf.h"
#include "geometry/check_off.h"
#include "geometry/collada_up.h"
#include "geometry/import_mesh.h"
#include "geometry/ply_header.h"
#include "geometry/read_ply.h"
#include "geometry/read_stl_ascii.h"
#include "geometry/read_stl_binary.h"
#include "geometry/refuse_file.h"
#include "geometry/text_scanner.h"
#include "geometry/threemf_facts.h"

#include <fmt/format.h>
#include <optional>

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

std::optional<ImportKind> kind_of(std::string_view bytes, const std::string& extension) {
  if (starts_with(bytes, "glTF"))
    return ImportKind::gltf;
  if (starts_with(bytes, "PK\x03\x04"))
    return extension == ".3mf" ? std::optional(ImportKind::threemf) : std::nullopt;
  if (extension == ".obj")
    return ImportKind::obj;
  if (extension == ".off")
    return ImportKind::off;
  if (extension == ".gltf")
    return ImportKind::gltf;
  if (extension == ".dae")
    return ImportKind::collada;
  return std::nullopt;
}

void state_unit(const MappedFile& file, ImportKind kind, FileMesh& read) {
  switch (kind) {
  case ImportKind::obj:
    read.format = "OBJ";
    break;
  case ImportKind::off:
    check_off(file);
    read.format = "OFF";
    break;
  case ImportKind::threemf: {
    const ThreemfFacts facts = read_threemf_facts(file);
    read.format = "3MF";
    read.mm_per_unit = facts.mm_per_unit;
    read.unit = facts.unit;
    break;
  }
  case ImportKind::gltf: // glTF 2.0 Specification, 3.4: metres, +Y up
    check_gltf(file);
    read.format = starts_with(file.text(), "glTF") ? "binary glTF" : "glTF";
    read.mm_per_unit = 1000;
    read.unit = "metre";
    read.notices.push_back(
        {"y-up", "glTF is in metres with y up by its specification. The axes were kept as they "
                 "are: turn the model (placing.up in a job) if its depth is not along z."});
    break;
  case ImportKind::collada: // the import has turned the file's unit into metres
    check_collada(file);
    read.format = "COLLADA";
    read.mm_per_unit = 1000;
    read.unit = "the file's own";
    if (const char up = collada_up(file.text()); up != 'z')
      read.notices.push_back(
          {fmt::format("{}-up", up),
           fmt::format(
               "This COLLADA file has {} up. The axes were kept as they are: turn the model "
               "(placing.up in a job) if its depth is not along z.",
               up)});
    break;
  }
}

FileMesh import(const MappedFile& file, ImportKind kind, const LoadOptions& options,
                const RunContext& run) {
  FileMesh read;
  state_unit(file, kind, read); // also checks 3MF and glTF before they are handed on
  read.single_numbers = true;
  ImportedSoup imported = import_mesh(file.path(), kind, options, run);
  if (imported.placed == 0)
    refuse_file(file.path(), fmt::format("{} places no mesh", read.format),
                "export the mesh again, best as binary STL or PLY");
  if (imported.not_placed > 0)
    read.notices.push_back(
        {"not-placed", fmt::format("{} of the meshes in the file are not placed in "
                                   "its scene and were left out.",
                                   imported.not_placed)});
  // A mesh without some of its faces is not that mesh.
  if (imported.first_remark.find("dropped") != std::string::npos)
    refuse_file(
        file.path(),
        fmt::format("the importer left faces out ({})", one_line(imported.first_remark, 160)),
        "the file is damaged: export the mesh again");
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
  if (const std::optional<ImportKind> kind = kind_of(bytes, extension))
    return import(file, *kind, options, run);
  refuse_file(file.path(), fmt::format("\"{}\" is not a mesh format that is read here", extension),
              "export the mesh as binary STL, PLY, OBJ, OFF, 3MF, glTF or COLLADA");
}

} // namespace leastwall
