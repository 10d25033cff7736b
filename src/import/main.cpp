// leastwall-import KIND FILE MEMORY_BYTES CPU_SECONDS
// Reads one mesh file with Assimp and writes what it holds to handle 3 (import_protocol.h). Run by
// leastwall alone; it limits itself, so that a hostile file harms nothing but this process.
#include "import/flatten_scene.h"
#include "import/folder_io.h"
#include "import/remarks.h"
#include "mesh/importing/import_protocol.h"

#include <assimp/BaseImporter.h>
#include <assimp/Importer.hpp>
#include <assimp/config.h>
#include <charconv>
#include <csignal>
#include <cstring>
#include <new>
#include <set>
#include <string>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <unistd.h>
#include <vector>

namespace {

using namespace leastwall;

bool write_all(const void* data, std::size_t size) {
  const char* at = static_cast<const char*>(data);
  while (size > 0) {
    const ssize_t n = ::write(kImportHandle, at, size);
    if (n <= 0)
      return false;
    at += n;
    size -= static_cast<std::size_t>(n);
  }
  return true;
}

/// Ends the process without running destructors: after a failed import they may not be safe.
[[noreturn]] void refuse(const std::string& message) {
  ImportHeader header;
  header.message_bytes = message.size();
  const bool sent = write_all(&header, sizeof header) && write_all(message.data(), message.size());
  ::_exit(sent ? 0 : 1);
}

void limit(int what, rlim_t most) {
  rlimit now{};
  if (::getrlimit(static_cast<__rlimit_resource>(what), &now) != 0)
    return;
  now.rlim_cur = now.rlim_max == RLIM_INFINITY || most < now.rlim_max ? most : now.rlim_max;
  ::setrlimit(static_cast<__rlimit_resource>(what), &now);
}

std::uint64_t whole_number(const char* text) {
  std::uint64_t value = 0;
  std::from_chars(text, text + std::strlen(text), value);
  return value;
}

/// Assimp picks a loader by content when the extension does not fit: leave it no other.
void keep_only(Assimp::Importer& importer, const std::string& kind) {
  std::vector<Assimp::BaseImporter*> others;
  for (std::size_t i = 0; i < importer.GetImporterCount(); ++i) {
    std::set<std::string> extensions;
    importer.GetImporter(i)->GetExtensionList(extensions);
    if (extensions.count(kind) == 0)
      others.push_back(importer.GetImporter(i));
  }
  for (Assimp::BaseImporter* other : others)
    importer.UnregisterLoader(other);
}

int send(const import::FlatScene& flat, const import::Remarks& remarks) {
  ImportHeader header;
  header.vertices = flat.vertices.size();
  header.corners = flat.corners.size();
  header.faces = flat.sizes.size();
  header.placed = flat.placed;
  header.not_placed = flat.not_placed;
  header.remarks = remarks.count;
  header.remark_bytes = remarks.first.size();
  const bool sent = write_all(&header, sizeof header) &&
                    write_all(flat.vertices.data(), flat.vertices.size() * sizeof(Vec3)) &&
                    write_all(flat.corners.data(), flat.corners.size() * 4) &&
                    write_all(flat.sizes.data(), flat.sizes.size() * 4) &&
                    write_all(remarks.first.data(), remarks.first.size());
  return sent ? 0 : 1;
}

} // namespace

int main(int argc, char** argv) {
  if (argc != 5)
    return 1;
  ::prctl(PR_SET_PDEATHSIG, SIGKILL); // never outlive the program that asked
  limit(RLIMIT_CORE, 0);
  limit(RLIMIT_FSIZE, 0);
  limit(RLIMIT_CPU, whole_number(argv[4]));
// The shadow memory of a sanitizer alone is larger than any limit.
#if !defined(__SANITIZE_ADDRESS__) && !defined(__SANITIZE_THREAD__)
  limit(RLIMIT_AS, whole_number(argv[3]));
#endif
  try {
    import::Remarks remarks;
    import::listen(remarks);
    Assimp::Importer importer;
    keep_only(importer, argv[1]);
    importer.SetIOHandler(new import::FolderIo(argv[2])); // the importer owns it
    importer.SetPropertyBool(AI_CONFIG_IMPORT_COLLADA_IGNORE_UP_DIRECTION, true);
    const aiScene* scene = importer.ReadFile(argv[2], 0);
    if (scene == nullptr)
      refuse(std::string("cannot be imported (") + importer.GetErrorString() + ")");
    ::_exit(send(import::flatten_scene(*scene), remarks));
  } catch (const std::bad_alloc&) {
    refuse("needs more memory than the import is allowed");
  } catch (const std::exception& e) {
    refuse(std::string("cannot be imported (") + e.what() + ")");
  }
}
