// What the import process writes to its pipe: a header, then the arrays. Both sides are the same
// build on the same machine, so numbers are written as they lie in memory.
#pragma once

#include <cstdint>

namespace leastwall {

inline constexpr std::uint64_t kImportMagic = 0x31304d4957545355u;
inline constexpr int kImportHandle = 3; ///< file handle of the pipe in the import process

struct ImportHeader {
  std::uint64_t magic = kImportMagic;
  std::uint64_t message_bytes = 0; ///< not 0: a refusal of so many bytes of text follows, no arrays
  std::uint64_t vertices = 0;      ///< three doubles each
  std::uint64_t corners = 0;       ///< 32-bit vertex numbers of all faces
  std::uint64_t faces = 0;         ///< 32-bit corner counts
  std::uint64_t placed = 0;        ///< meshes placed by the scene, instances counted each
  std::uint64_t not_placed = 0;    ///< meshes that nothing in the scene uses
  std::uint64_t remarks = 0;       ///< warnings and errors that the importer logged
  std::uint64_t remark_bytes = 0;  ///< text of the first of them, after the arrays
};

} // namespace leastwall
