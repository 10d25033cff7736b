// write_seeds FOLDER: writes the seeds of the mesh target there.
#include "seed_files.h"

#include <filesystem>
#include <fstream>
#include <iostream>

int main(int argc, char** argv) {
  if (argc != 2) {
    std::cerr << "write_seeds FOLDER\n";
    return 2;
  }
  const std::filesystem::path folder = argv[1];
  std::filesystem::create_directories(folder);
  for (const auto& seeds : {leastwall::fuzz::own_reader_seeds(), leastwall::fuzz::import_seeds()})
    for (const leastwall::fuzz::SeedFile& seed : seeds) {
      std::ofstream out(folder / seed.name, std::ios::binary);
      out << seed.bytes;
      if (!out.flush()) {
        std::cerr << seed.name << ": cannot be written\n";
        return 3;
      }
    }
}
