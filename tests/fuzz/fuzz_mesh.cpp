// Mesh intake with readers of our own: STL, PLY, OBJ, OFF, 3MF and glTF to a checked mesh, and what
// is looked at in COLLADA before the import process sees it.
#include "base/file/mapped_file.h"
#include "mesh/importing/check_collada.h"
#include "mesh/importing/collada_faces.h"
#include "mesh/importing/collada_up.h"
#include "mesh/load/load_mesh.h"
#include "mesh_sense.h"
#include "stated_outcome.h"
#include "support/temp_dir.h"

#include <cmath>
#include <cstdint>
#include <cstring>

using namespace leastwall;

namespace {

using fuzz::require;

/// Facets that the file announces, where that can be told without a reader: the count of a binary
/// STL; the complete facets of an ASCII one.
std::optional<std::size_t> promised(std::string_view bytes, const LoadedMesh& loaded) {
  if (loaded.format == "binary STL") {
    std::uint32_t count = 0;
    std::memcpy(&count, bytes.data() + 80, sizeof count);
    return count;
  }
  if (loaded.format != "ASCII STL")
    return std::nullopt;
  std::size_t facets = 0;
  while (!bytes.empty()) {
    const std::size_t begin = bytes.find_first_not_of(" \t\v\f\r\n");
    if (begin == bytes.npos)
      break;
    bytes.remove_prefix(begin);
    const std::size_t length = std::min(bytes.find_first_of(" \t\v\f\r\n"), bytes.size());
    std::string word(bytes.substr(0, length));
    for (char& c : word)
      c = c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c;
    bytes.remove_prefix(length);
    if (word == "solid" || word == "endsolid" || word == "\xef\xbb\xbfsolid") // a name follows
      bytes.remove_prefix(std::min(bytes.find_first_of("\r\n"), bytes.size()));
    facets += word == "endfacet" ? 1 : 0;
  }
  return facets;
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const test::TempDir folder;
  const std::string_view bytes(reinterpret_cast<const char*>(data), size);
  const bool gltf = bytes.starts_with("glTF") || bytes.starts_with("{");
  const char* name = bytes.starts_with("PK")                                 ? "m.3mf"
                     : gltf                                                  ? "m.gltf"
                     : bytes.starts_with("ply")                              ? "m.ply"
                     : bytes.substr(0, 16).find("OFF") != bytes.npos         ? "m.off"
                     : bytes.starts_with("v ") || bytes.starts_with("# obj") ? "m.obj"
                     : bytes.starts_with("<?xml")                            ? "m.dae"
                                                                             : "m.stl";
  const std::filesystem::path file = folder.file(name, bytes);
  fuzz::has_answer(file.native(), [&] {
    if (file.extension() == ".dae") {
      const MappedFile mapped(file);
      check_collada(mapped);
      const FaceCount count = collada_faces(mapped);
      require(count.corners >= count.faces, "a face has a corner");
      const char up = collada_up(mapped.text());
      require(up >= 'x' && up <= 'z', "an axis points up");
      return;
    }
    LoadOptions options;
    options.import_memory_bytes = std::uint64_t{256} << 20;
    const LoadedMesh loaded = load_mesh(file, options, {});
    fuzz::require_sense(loaded);
    if (const auto count = promised(bytes, loaded))
      require(loaded.mesh.triangles.size() + loaded.findings.degenerate_dropped +
                      loaded.findings.doubled_dropped ==
                  *count,
              "facets read and dropped are those of the file");
  });
  return 0;
}
