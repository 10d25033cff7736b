#include "report/sheet/sheet_notices.h"

#include <algorithm>

namespace leastwall {
namespace {

bool about_a_file(const Notice& n) {
  return n.severity == Severity::warning &&
         (n.about == NoticeAbout::pocket_mesh || n.about == NoticeAbout::skin_mesh);
}

} // namespace

std::optional<Side> side_of_notice(const Notice& notice) {
  if (notice.about == NoticeAbout::side_a)
    return Side::a;
  if (notice.about == NoticeAbout::side_b)
    return Side::b;
  return std::nullopt;
}

std::vector<Notice> sheet_notices(const CheckReport& report, Side side) {
  std::vector<Notice> out;
  for (const Severity severity : {Severity::unproven, Severity::doubt, Severity::warning})
    for (const Notice& n : report.warnings)
      if (n.severity == severity && side_of_notice(n).value_or(side) == side && !about_a_file(n) &&
          n.code != "pad-no-room")
        out.push_back(n);
  return out;
}

std::size_t mesh_remarks(const CheckReport& report) {
  return static_cast<std::size_t>(std::ranges::count_if(report.warnings, about_a_file));
}

std::string notices_heading(const std::vector<Notice>& notices) {
  const auto any = [&](Severity severity) {
    return std::ranges::any_of(notices, [&](const Notice& n) { return n.severity == severity; });
  };
  if (any(Severity::unproven))
    return "DO NOT CUT FROM THIS SHEET: NO WALL IS PROVEN. LOOK FIRST";
  if (any(Severity::doubt))
    return "LOOK FIRST, BEFORE YOU CUT";
  return "MIND";
}

} // namespace leastwall
