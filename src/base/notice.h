// Findings and warnings as data: they travel with results and are printed only by src/app/.
#pragma once

#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

namespace leastwall {

/// How much of the result a notice puts in doubt.
enum class Severity {
  warning,  ///< to be known; the result stands
  doubt,    ///< to be looked at before the result is believed; the verdict stands
  unproven, ///< no wall is proven while it stands: the verdict is `unproven`
};

/// "warning", "doubt", "unproven": the words in JSON.
constexpr std::string_view severity_word(Severity severity) {
  return severity == Severity::warning ? "warning"
         : severity == Severity::doubt ? "doubt"
                                       : "unproven";
}

/// What a notice concerns.
enum class NoticeAbout { piece, pocket_mesh, skin_mesh, side_a, side_b };

/// Something the user should know. `code` is stable, lower-case, hyphenated (tests and scripts
/// match on it); `text` is one or two sentences that say what was found and what to do about it;
/// the first sentence of one that leaves walls unproven stands alone in the picture.
struct Notice {
  std::string code;
  std::string text;
  Severity severity = Severity::warning;
  NoticeAbout about = NoticeAbout::piece;
  bool operator==(const Notice&) const = default;
};

/// Whether any of them leaves walls unproven.
inline bool leaves_unproven(const std::vector<Notice>& notices) {
  return std::any_of(notices.begin(), notices.end(),
                     [](const Notice& n) { return n.severity == Severity::unproven; });
}

} // namespace leastwall
