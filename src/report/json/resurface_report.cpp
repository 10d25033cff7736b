#include "report/json/resurface_report.h"

#include "report/words/number_text.h"

#include <fmt/format.h>

namespace leastwall {
namespace {

std::string why(const ResurfaceRow& row) {
  const std::string now(verdict_in_text(row.verdict_now)),
      after(verdict_in_text(row.verdict_after));
  if (row.verdict_now == Verdict::safe)
    return "No need to resurface: the piece is safe on the bed as it is.";
  const std::string free =
      row.verdict_free ? fmt::format("{} ({})", row.free_change, verdict_in_text(*row.verdict_free))
                       : std::string();
  if (row.advised)
    return fmt::format("Resurface the spoilboard before side A and cut both sides on it: {} now, "
                       "{} afterwards ({:+.3f} mm); {}.",
                       now, after, row.gain_mm,
                       free.empty() ? "nothing that costs nothing helps"
                                    : "the best that costs nothing is not as good: " + free);
  if (row.verdict_after >= row.verdict_now)
    return fmt::format("Do not resurface for this piece: {} now, {} afterwards.", now, after);
  if (!row.possible)
    return fmt::format("Resurfacing would help ({} now, {} afterwards), but not with this "
                       "spoilboard as it is.",
                       now, after);
  return fmt::format("Do not resurface for this piece: {} now, {} afterwards, but a change that "
                     "costs nothing does as much: {}.",
                     now, after, free);
}

std::string left_over(const ResurfaceRow& row) {
  std::string text;
  const auto add = [&](const char* what, const std::optional<double>& mm) {
    if (mm)
      text += fmt::format("{}{} {} mm", text.empty() ? "" : ", ", what, fixed_text(*mm, 2));
  };
  add("spoilboard", row.left.board_mm);
  add("dowel holes", row.left.dowel_holes_mm);
  add("above the screw heads", row.left.screws_mm);
  return text;
}

} // namespace

Json resurface_json(const ResurfaceRow& row) {
  Json out = {{"advised", row.advised},
              {"verdict_now", verdict_word(row.verdict_now)},
              {"verdict_after", verdict_word(row.verdict_after)}};
  if (row.verdict_between)
    out["verdict_between"] = verdict_word(*row.verdict_between);
  if (row.verdict_free) {
    out["verdict_free"] = verdict_word(*row.verdict_free);
    out["free_change"] = row.free_change;
  }
  out["gain_mm"] = json_number(row.gain_mm);
  out["flatness_mm"] = json_number(row.flatness_mm);
  out["residual_mm"] = json_number(row.residual_mm);
  out["depth_mm"] = json_number(row.depth_mm);
  out["passes"] = row.passes;
  if (row.left.board_mm)
    out["board_left_mm"] = json_number(*row.left.board_mm);
  if (row.left.dowel_holes_mm)
    out["dowel_holes_left_mm"] = json_number(*row.left.dowel_holes_mm);
  if (row.left.screws_mm)
    out["screws_left_mm"] = json_number(*row.left.screws_mm);
  out["area_mm"] = {{"low", {json_number(row.area.low.x), json_number(row.area.low.y)}},
                    {"high", {json_number(row.area.high.x), json_number(row.area.high.y)}}};
  out["notices"] = Json::array();
  for (const Notice& n : row.notices)
    out["notices"].push_back({{"code", n.code}, {"text", n.text}});
  return out;
}

std::vector<std::string> resurface_sentences(const ResurfaceRow& row) {
  std::vector<std::string> out{why(row)};
  out.push_back(fmt::format("Under the board, as it lies on side A and on side B, the bed is flat "
                            "within {} mm; {} mm after "
                            "surfacing ({}).",
                            fixed_text(row.flatness_mm, 3), fixed_text(row.residual_mm, 3),
                            row.residual_from));
  if (row.verdict_after >= row.verdict_now)
    return out; // no one will surface it, so how deep is of no use
  const std::string left = left_over(row);
  out.push_back(fmt::format(
      "To take: {} mm below the highest place, {} of at most {} mm, over x {} to {}, y {} to {} of "
      "the bed{}.",
      fixed_text(row.depth_mm, 2),
      row.passes == 1 ? "one pass" : fmt::format("{} passes", row.passes),
      fixed_text(row.depth_per_pass_mm, 2), fixed_text(row.area.low.x, 0),
      fixed_text(row.area.high.x, 0), fixed_text(row.area.low.y, 0), fixed_text(row.area.high.y, 0),
      left.empty() ? "" : "; left: " + left));
  for (const Notice& n : row.notices)
    out.push_back(n.text);
  return out;
}

} // namespace leastwall
