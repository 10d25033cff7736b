// Files that a mesh file names and that are read with it.
#pragma once

#include <filesystem>
#include <vector>

namespace leastwall {

/// Buffers of a glTF ("uri"; Khronos Group, "glTF 2.0 Specification", 3.6.1.1) and materials of an
/// OBJ (`mtllib`), as paths beside the file; each spelling that a reader may try. They need not be
/// there. Empty for other formats, and where the file cannot be read.
std::vector<std::filesystem::path> side_files(const std::filesystem::path& mesh);

} // namespace leastwall
