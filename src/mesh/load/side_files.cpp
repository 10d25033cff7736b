#include "mesh/load/side_files.h"

#include "base/errors.h"
#include "base/file/mapped_file.h"
#include "base/text/lower_case.h"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

namespace leastwall {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view kBlanks = " \t\r";

/// "my%20mesh.bin" as "my mesh.bin" (RFC 3986, 2.1).
std::string without_percent(std::string_view text) {
  const auto digit = [](char c) {
    return c >= '0' && c <= '9'   ? c - '0'
           : c >= 'a' && c <= 'f' ? c - 'a' + 10
           : c >= 'A' && c <= 'F' ? c - 'A' + 10
                                  : -1;
  };
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool code =
        text[i] == '%' && i + 2 < text.size() && digit(text[i + 1]) >= 0 && digit(text[i + 2]) >= 0;
    out += code ? static_cast<char>(16 * digit(text[i + 1]) + digit(text[i + 2])) : text[i];
    i += code ? 2 : 0;
  }
  return out;
}

/// The text of the JSON string that begins at the quote `at`; empty when there is none.
std::string json_string(std::string_view text, std::size_t at) {
  std::size_t end = at + 1;
  while (end < text.size() && text[end] != '"')
    end += text[end] == '\\' ? 2 : 1;
  if (end >= text.size())
    return {};
  const auto parsed =
      nlohmann::json::parse(text.substr(at, end - at + 1), nullptr, /*allow_exceptions=*/false);
  return parsed.is_string() ? parsed.get<std::string>() : std::string();
}

std::vector<std::string> named_by_gltf(std::string_view text) {
  constexpr std::string_view kKey = "\"uri\"", kSpace = " \t\r\n";
  std::vector<std::string> names;
  for (std::size_t at = text.find(kKey); at != text.npos; at = text.find(kKey, at + kKey.size())) {
    std::size_t next = text.find_first_not_of(kSpace, at + kKey.size());
    if (next == text.npos || text[next] != ':')
      continue;
    next = text.find_first_not_of(kSpace, next + 1);
    if (next == text.npos || text[next] != '"' || text.substr(next + 1, 5) == "data:")
      continue;
    const std::string name = json_string(text, next);
    names.push_back(name);
    names.push_back(without_percent(name));
  }
  return names;
}

std::vector<std::string> named_by_obj(std::string_view text, const fs::path& mesh) {
  constexpr std::string_view kKey = "mtllib";
  std::vector<std::string> names;
  for (std::size_t at = text.find(kKey); at != text.npos; at = text.find(kKey, at + kKey.size())) {
    const std::size_t begin = at + kKey.size();
    std::string_view rest = text.substr(begin, text.find('\n', begin) - begin);
    rest.remove_prefix(std::min(rest.find_first_not_of(kBlanks), rest.size()));
    rest = rest.substr(0, rest.find_last_not_of(kBlanks) + 1);
    names.emplace_back(rest); // one name with blanks in it, or several names
    while (!rest.empty()) {
      const std::size_t end = std::min(rest.find_first_of(kBlanks), rest.size());
      names.emplace_back(rest.substr(0, end));
      rest.remove_prefix(std::min(rest.find_first_not_of(kBlanks, end), rest.size()));
    }
    names.push_back(mesh.stem().string() + ".mtl"); // where the named one is not there
  }
  return names;
}

} // namespace

std::vector<fs::path> side_files(const fs::path& mesh) {
  const std::string extension = lower_case(mesh.extension().string());
  const bool obj = extension == ".obj", gltf = extension == ".gltf" || extension == ".glb";
  if (!obj && !gltf)
    return {};
  std::vector<std::string> names;
  try {
    const MappedFile file(mesh);
    names = obj ? named_by_obj(file.text(), mesh) : named_by_gltf(file.text());
  } catch (const InputError&) {
    return {}; // whoever reads the mesh says why
  }
  std::sort(names.begin(), names.end());
  names.erase(std::unique(names.begin(), names.end()), names.end());
  std::vector<fs::path> files;
  for (const std::string& name : names)
    if (!name.empty() && name.find('\0') == name.npos)
      files.push_back(mesh.parent_path() / name);
  return files;
}

} // namespace leastwall
