// Loading as the tests do it, and what they ask of errors and notices.
#pragma once

#include "base/errors.h"
#include "mesh/load/load_mesh.h"

#include <algorithm>
#include <cstdlib>
#include <doctest/doctest.h>
#include <string>

namespace leastwall::test {

inline LoadedMesh load(const std::filesystem::path& file, const LoadOptions& options = {}) {
  // The tests run from a folder beside the import program's.
  ::setenv("LEASTWALL_IMPORT", LEASTWALL_BUILD_DIR "/leastwall-import", 0);
  return load_mesh(file, options, RunContext{});
}

inline bool has_notice(const LoadedMesh& m, const std::string& code) {
  return std::any_of(m.notices.begin(), m.notices.end(),
                     [&](const Notice& n) { return n.code == code; });
}

/// The text of the InputError that loading raises; empty when it raises none. Checks that the text
/// is one line, begins with the file's name and says what to do after a semicolon.
inline std::string refusal(const std::filesystem::path& file, const LoadOptions& options = {}) {
  try {
    load(file, options);
  } catch (const InputError& e) {
    const std::string what = e.what();
    CHECK(what.rfind(file.string() + ": ", 0) == 0);
    CHECK(what.find('\n') == std::string::npos);
    CHECK(what.find("; ") != std::string::npos);
    return what.substr(std::min(what.size(), file.string().size() + 2));
  }
  return {};
}

inline bool contains(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

} // namespace leastwall::test
