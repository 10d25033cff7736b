// A small piece on disk and ways to check it with the program.
#pragma once

#include "support/mesh_files.h"
#include "support/run_program.h"
#include "support/shapes.h"
#include "support/temp_dir.h"

#include <doctest/doctest.h>

namespace leastwall::test {

/// A block 80 x 60 x 20 mm and a pocket point that ends `wall_mm` above its lower face.
class SmallPiece {
 public:
  explicit SmallPiece(double wall_mm = 2, double scale = 1)
      : pocket(folder.file("pocket.stl", binary_stl(shapes::scaled(
                                             shapes::spike({3, -7, -20 + wall_mm}, 6, 0), scale)))),
        skin(folder.file("skin.stl", binary_stl(shapes::scaled(
                                         shapes::box({-40, -30, -20}, {40, 30, 0}), scale)))) {}

  /// `check` of both meshes with a limit of 0.8 mm and more arguments.
  RunResult check(std::vector<std::string> more = {}, const RunOptions& options = {}) const {
    std::vector<std::string> words = {
        "check", "--pocket", pocket.string(), "--skin",         skin.string(), "--limit",
        "0.8",   "--z-zero", "0.05",          "--bed-flatness", "0.1"};
    words.insert(words.end(), more.begin(), more.end());
    return leastwall_program(words, options);
  }
  /// Names in the folder beyond the two meshes.
  std::vector<std::string> left() const {
    std::vector<std::string> names = names_in(folder.path());
    std::erase(names, "pocket.stl");
    std::erase(names, "skin.stl");
    return names;
  }

  TempDir folder;
  std::filesystem::path pocket, skin;
};

inline bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

/// The program refused: this status, nothing on stdout, one line on stderr that holds `words`.
inline void check_refused(const RunResult& r, int status, const std::vector<std::string>& words) {
  INFO(r.err);
  CHECK(r.status == status);
  CHECK(r.out.empty());
  CHECK(std::count(r.err.begin(), r.err.end(), '\n') == 1);
  CHECK(r.err.rfind("leastwall: ", 0) == 0);
  for (const std::string& word : words)
    CHECK(has(r.err, word));
}

} // namespace leastwall::test
