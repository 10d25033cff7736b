// A folder of its own for a test, removed with all it holds.
#pragma once

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <stdexcept>
#include <string>
#include <string_view>

namespace leastwall::test {

class TempDir {
 public:
  TempDir() {
    std::string pattern = (std::filesystem::temp_directory_path() / "leastwall-XXXXXX").string();
    if (::mkdtemp(pattern.data()) == nullptr)
      throw std::runtime_error("no temporary folder");
    path_ = pattern;
  }
  ~TempDir() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }
  TempDir(const TempDir&) = delete;
  TempDir& operator=(const TempDir&) = delete;

  const std::filesystem::path& path() const { return path_; }

  /// Writes a file of that name into the folder and returns its path.
  std::filesystem::path file(const std::string& name, std::string_view bytes) const {
    const std::filesystem::path where = path_ / name;
    std::filesystem::create_directories(where.parent_path());
    std::ofstream out(where, std::ios::binary);
    out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    out.close();
    if (!out)
      throw std::runtime_error("cannot write " + where.string());
    return where;
  }

 private:
  std::filesystem::path path_;
};

} // namespace leastwall::test
