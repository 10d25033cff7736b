// make_demo_meshes: writes the demo meshes of this folder. Exit status as the main program has it:
// 2 when the call is wrong, 3 when the files could not be written.
#include "ember_mesh.h"
#include "gourd_mesh.h"
#include "leaf_mesh.h"

#include "base/errors.h"

#include <charconv>
#include <cstdint>
#include <filesystem>
#include <iostream>
#include <string>
#include <string_view>
#include <vector>

namespace {

using namespace leastwall;
namespace fs = std::filesystem;

constexpr std::string_view usage =
    "make_demo_meshes gourd FOLDER [--triangles N]   or   make_demo_meshes leaf FOLDER";
constexpr std::uint32_t most_triangles = 10'000'000;

std::uint32_t triangles_from(std::string_view text) {
  std::uint32_t n = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), n);
  if (error != std::errc{} || end != text.data() + text.size() || n < 1000 || n > most_triangles)
    throw InputError("--triangles: '" + std::string(text) +
                     "' is not a whole number from 1000 to 10000000");
  return n;
}

void report(const fs::path& path, std::uint32_t triangles) {
  std::cout << path.string() << ": " << triangles << " triangles\n";
}

void run(const std::vector<std::string_view>& words) {
  if (words.size() < 2)
    throw InputError("call: " + std::string(usage));
  const std::string_view what = words[0];
  const fs::path folder = words[1];
  std::error_code error;
  fs::create_directories(folder, error);
  if (!fs::is_directory(folder))
    throw RunError(folder.string() + ": no such folder, and it cannot be made");
  if (what == "gourd" && (words.size() == 2 || (words.size() == 4 && words[2] == "--triangles"))) {
    demo::GourdMeshOptions options;
    if (words.size() == 4)
      options.triangles = triangles_from(words[3]);
    for (const auto part : {demo::GourdPart::pocket, demo::GourdPart::skin}) {
      options.part = part;
      const auto path =
          folder / (part == demo::GourdPart::pocket ? "gourd_pocket.stl" : "gourd_skin.stl");
      report(path, demo::write_gourd(path, options));
    }
    if (words.size() == 2)
      report(folder / "gourd_ember.stl", demo::write_ember_room(folder / "gourd_ember.stl"));
  } else if (what == "leaf" && words.size() == 2) {
    report(folder / "leaf_back.ply",
           demo::write_leaf(folder / "leaf_back.ply", demo::LeafPart::back));
    report(folder / "leaf_front.ply",
           demo::write_leaf(folder / "leaf_front.ply", demo::LeafPart::front));
  } else {
    throw InputError("call: " + std::string(usage));
  }
}

} // namespace

int main(int argc, char** argv) {
  try {
    run({argv + 1, argv + argc});
    return 0;
  } catch (const InputError& e) {
    std::cerr << "make_demo_meshes: " << e.what() << '\n';
    return 2;
  } catch (const std::exception& e) {
    std::cerr << "make_demo_meshes: " << e.what() << '\n';
    return 3;
  }
}
