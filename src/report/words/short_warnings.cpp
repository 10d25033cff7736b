#include "report/words/short_warnings.h"

#include <algorithm>
#include <string>

namespace leastwall {
namespace {

bool is_open_mesh(const Notice& n) {
  return n.code == "open-edges" && n.severity == Severity::warning;
}

} // namespace

std::vector<Notice> short_warnings(const std::vector<Notice>& warnings) {
  const auto open = [&](NoticeAbout about) {
    return std::ranges::any_of(
        warnings, [about](const Notice& n) { return is_open_mesh(n) && n.about == about; });
  };
  const bool pocket = open(NoticeAbout::pocket_mesh), skin = open(NoticeAbout::skin_mesh);
  std::vector<Notice> out;
  bool told = false;
  for (Notice n : warnings) {
    if (n.severity != Severity::warning || (is_open_mesh(n) && told))
      continue;
    if (is_open_mesh(n) && (pocket || skin)) {
      told = true;
      n.text = std::string(pocket && skin ? "Pocket and skin are open meshes"
                           : pocket       ? "The pocket is an open mesh"
                                          : "The skin is an open mesh") +
               ": right for relief sheets; close what should be solid.";
    }
    out.push_back(std::move(n));
  }
  return out;
}

} // namespace leastwall
