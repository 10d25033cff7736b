// Findings and warnings as data: they travel with results and are printed only by src/app/.
#pragma once

#include <string>

namespace leastwall {

/// Something the user should know. `code` is stable, lower-case, hyphenated (tests and scripts
/// match on it); `text` is one or two sentences that say what was found and what to do about it.
struct Notice {
  std::string code;
  std::string text;
  bool operator==(const Notice&) const = default;
};

} // namespace leastwall
