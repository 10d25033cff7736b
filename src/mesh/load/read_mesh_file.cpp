#include "mesh/load/read_mesh_file.h"

#include "base/file/refuse_file.h"
#include "base/text/lower_case.h"
#include "mesh/formats/ply_header.h"
#include "mesh/formats/read_gltf.h"
#include "mesh/formats/read_obj.h"
#include "mesh/formats/read_off.h"
#include "mesh/formats/read_ply.h"
#include "mesh/formats/read_stl_ascii.h"
#include "mesh/formats/read_stl_binary.h"
#include "mesh/formats/read_threemf.h"
#include "mesh/importing/import_collada.h"
#include "mesh/syntax/text_scanner.h"

#include <fmt/format.h>
#include <iterator>

namespace leastwall {
namespace {

std::string extension_of(const std::filesystem::path& file) {
  return lower_case(file.extension().string());
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

constexpr std::string_view kZip = "PK\x03\x04", kGlb = "glTF";

/// Bytes that say what they are, whatever the file is called.
bool other_magic(std::string_view bytes) {
  return starts_with(bytes, kZip) || starts_with(bytes, kGlb);
}

struct MeshFormat {
  const char* name;
  bool (*is)(std::string_view bytes, std::string_view extension); ///< lower case, with its dot
  FileMesh (*read)(const MappedFile&, const LoadOptions&, const RunContext&);
};

/// Asked in this order.
constexpr MeshFormat kFormats[] = {
    {"PLY", [](std::string_view bytes, std::string_view) { return looks_like_ply(bytes); },
     [](const MappedFile& file, const LoadOptions&, const RunContext& run) {
       return read_ply(file, run);
     }},
    {"binary STL",
     [](std::string_view bytes, std::string_view extension) {
       return extension == ".stl" || (has_binary_stl_size(bytes) && !other_magic(bytes)) ||
              (extension.empty() && looks_like_ascii_stl(bytes));
     },
     [](const MappedFile& file, const LoadOptions&, const RunContext& run) {
       return read_stl(file, run);
     }},
    {"OBJ",
     [](std::string_view bytes, std::string_view extension) {
       return extension == ".obj" && !other_magic(bytes);
     },
     [](const MappedFile& file, const LoadOptions&, const RunContext& run) {
       return read_obj(file, run);
     }},
    {"OFF",
     [](std::string_view bytes, std::string_view extension) {
       return extension == ".off" && !other_magic(bytes);
     },
     [](const MappedFile& file, const LoadOptions&, const RunContext& run) {
       return read_off(file, run);
     }},
    {"3MF",
     [](std::string_view bytes, std::string_view extension) {
       return extension == ".3mf" && starts_with(bytes, kZip);
     },
     [](const MappedFile& file, const LoadOptions& options, const RunContext& run) {
       return read_threemf(file, options.import_memory_bytes, run);
     }},
    {"glTF",
     [](std::string_view bytes, std::string_view extension) {
       return extension == ".gltf" || starts_with(bytes, kGlb);
     },
     [](const MappedFile& file, const LoadOptions& options, const RunContext& run) {
       return read_gltf(file, options.import_memory_bytes, run);
     }},
    {"COLLADA",
     [](std::string_view bytes, std::string_view extension) {
       return extension == ".dae" && !other_magic(bytes);
     },
     import_collada},
};

/// "binary STL, PLY, OBJ or COLLADA": the one that is best to export first.
std::string names_of_formats() {
  std::string names = kFormats[1].name;
  for (const MeshFormat& format : kFormats)
    if (&format != &kFormats[1])
      names += fmt::format("{}{}", &format == std::end(kFormats) - 1 ? " or " : ", ", format.name);
  return names;
}

} // namespace

FileMesh read_mesh_file(const MappedFile& file, const LoadOptions& options, const RunContext& run) {
  const std::string extension = extension_of(file.path());
  for (const MeshFormat& format : kFormats)
    if (format.is(file.text(), extension))
      return format.read(file, options, run);
  refuse_file(file.path(), fmt::format("\"{}\" is not a mesh format that is read here", extension),
              "export the mesh as " + names_of_formats());
}

} // namespace leastwall
