// The schema of a check's JSON, asked of python3-jsonschema.
#pragma once

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>

namespace leastwall::test {

/// True when `text` fits the schema that is installed; `name`: of a file for it, until it was
/// asked.
inline bool fits_check_schema(const std::string& name, const std::string& text) {
  const std::filesystem::path file =
      std::filesystem::path(LEASTWALL_BUILD_DIR) / ("report_" + name + ".json");
  std::ofstream(file, std::ios::binary) << text;
  const std::string source = LEASTWALL_SOURCE_DIR;
  const std::string command = "python3 '" + source + "/tests/report/json/validate_json.py' '" +
                              source + "/src/report/json/check.schema.json' '" + file.string() +
                              "'";
  const bool ok = std::system(command.c_str()) == 0;
  std::filesystem::remove(file);
  return ok;
}

} // namespace leastwall::test
