// Small valid files, and files with one known fault, that fuzzing starts from.
#pragma once

#include <string>
#include <vector>

namespace leastwall::fuzz {

struct SeedFile {
  std::string name;  ///< says what is special about it; the extension is the format's
  std::string bytes; ///< a few kB at most
};

/// STL and PLY of all kinds that have readers of our own, with the known pitfalls of each.
std::vector<SeedFile> own_reader_seeds();

/// OBJ, OFF, 3MF, glTF (text and binary) and COLLADA.
std::vector<SeedFile> import_seeds();

} // namespace leastwall::fuzz
