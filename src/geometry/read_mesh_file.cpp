#include "geometry/read_mesh_file.h"

#include "geometry/ply_header.h"
#include "geometry/read_ply.h"
#include "geometry/read_stl_ascii.h"
#include "geometry/read_stl_binary.h"
#include "geometry/refuse_file.h"
#include "geometry/text_scanner.h"

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

} // namespace

FileMesh read_mesh_file(const MappedFile& file, const LoadOptions& options, const RunContext& run) {
  (void)options;
  const std::string_view bytes = file.text();
  const std::string extension = extension_of(file.path());
  if (looks_like_ply(bytes))
    return read_ply(file, run);
  const bool other_magic = starts_with(bytes, "PK\x03\x04") || starts_with(bytes, "glTF");
  if (extension == ".stl" || (has_binary_stl_size(bytes) && !other_magic) ||
      (extension.empty() && looks_like_ascii_stl(bytes)))
    return read_stl(file, run);
  refuse_file(file.path(), fmt::format("\"{}\" is not a mesh format that is read here", extension),
              "export the mesh as binary STL, PLY, OBJ, 3MF or glTF");
}

} // namespace leastwall
