// mesh/importing/import_mesh.h where no other process can be started.
#include "mesh/importing/import_mesh.h"

#include "base/errors.h"
#include "base/file/refuse_file.h"

namespace leastwall {

std::filesystem::path import_program() {
  throw RunError("leastwall-import: only the installed program has one");
}

ImportedSoup import_mesh(const std::filesystem::path& file, const LoadOptions&, const RunContext&) {
  refuse_file(file, "COLLADA is read by the installed program alone, not in a browser",
              "export the mesh as binary STL, PLY, OBJ, OFF, 3MF or glTF");
}

} // namespace leastwall
