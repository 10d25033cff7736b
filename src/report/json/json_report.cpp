#include "report/json/json_report.h"

#include "report/json/advice_json.h"
#include "report/json/json_values.h"
#include "report/json/resurface_report.h"
#include "report/words/cause_text.h"
#include "report/words/pad_text.h"
#include "report/words/parts_text.h"
#include "report/words/verdict_text.h"
#include "report/words/wall_name.h"

#include <algorithm>

namespace leastwall {
namespace {

double number(double value) {
  return json_number(value);
}

Json point(Vec3 p) {
  return json_point(p);
}

Json interval(double low, double high) {
  return Json::array({number(low), number(high)});
}

Json least_wall(const WallReport::Least& least) {
  Json out = {{"design_mm", number(least.design_mm)},
              {"expected_mm", number(least.expected_mm)},
              {"worst_mm", number(least.worst_mm)}};
  if (least.straight_down_mm)
    out["straight_down_mm"] = number(*least.straight_down_mm);
  out["at_mm"] = point(least.at);
  if (least.may_be_deeper)
    out["may_be_deeper"] = true;
  if (least.spread_low_mm && least.spread_high_mm)
    out["spread_mm"] = interval(*least.spread_low_mm, *least.spread_high_mm);
  return out;
}

Json region(const RegionRow& row) {
  Json out = {{"least_wall_mm", number(row.least_wall_mm)},
              {"worst_mm", number(row.worst_mm)},
              {"area_mm2", number(row.area_mm2)},
              {"area_under_limit_mm2", number(row.area_under_limit_mm2)},
              {"at_mm", point(row.at)}};
  if (row.worst_cause)
    out["worst_cause"] = cause_text_short(*row.worst_cause);
  return out;
}

Json chance(const ChanceRow& row) {
  return {{"under_limit", number(row.under_limit)},
          {"under_limit_between", interval(row.under_limit_low, row.under_limit_high)},
          {"cut_through", number(row.cut_through)},
          {"cut_through_between", interval(row.cut_through_low, row.cut_through_high)},
          {"trials", row.trials}};
}

/// A cause's name and what it belongs to, where others of its name do not.
Json named_cause(const CauseId& id) {
  Json out = {{"name", cause_text(id)}};
  if (id.side)
    out["side"] = *id.side == Side::a ? "A" : "B";
  if (id.set_up > 0)
    out["set_up"] = id.set_up + 1;
  if (id.board > 0)
    out["board"] = id.board + 1;
  return out;
}

Json cause(const CauseRow& row) {
  Json out = named_cause(row.id);
  out["known"] = known_text(row);
  if (!row.key.empty())
    out["key"] = row.key;
  out["at_thinnest_mm"] = number(row.at_thinnest_mm);
  out["share"] = number(row.share);
  if (row.largest_allowed_mm)
    out["largest_allowed_mm"] = number(*row.largest_allowed_mm);
  if (row.allowed_at_least)
    out["largest_allowed_is_at_least"] = true;
  return out;
}

Json pad(const PadRow& row) {
  Json out;
  if (row.use != PadUse::no_room)
    out["at_mm"] = {number(row.x_mm), number(row.y_mm)};
  out["size_mm"] = number(row.size_mm);
  out["design_mm"] = number(row.design_mm);
  out["floor_z_mm"] = number(row.floor_z_mm);
  out["skin_z_mm"] = number(row.skin_z_mm);
  if (row.use != PadUse::no_room) { // they hold for that place alone
    out["should_read_mm"] = number(row.expected_mm);
    out["between_mm"] = {number(row.low_mm), number(row.high_mm)};
  }
  if (row.use != PadUse::cut)
    out["not_cut"] = pad_not_cut(row);
  if (row.reading_mm)
    out["reading_mm"] = number(*row.reading_mm);
  if (row.shift_mm)
    out["shift_mm"] = number(*row.shift_mm);
  out["verdict"] = verdict_word(row.verdict);
  return out;
}

Json warning(const Notice& notice) {
  return {
      {"code", notice.code}, {"severity", severity_word(notice.severity)}, {"text", notice.text}};
}

template <class Rows, class Writer> Json list(const Rows& rows, Writer writer) {
  Json out = Json::array();
  for (const auto& row : rows)
    out.push_back(writer(row));
  return out;
}

Json named(const NamedWall& wall) {
  return {{"outer", wall.outer}, {"inner", wall.inner}};
}

Json wall_of_part(const NamedWall& wall) {
  Json out = named(wall);
  out["material"] = wall_material(wall);
  out["limit_mm"] = number(wall.wall.limit_mm);
  out["verdict"] = verdict_word(wall.wall.verdict);
  out["least_wall"] = least_wall(wall.wall.least_wall);
  out["area_under_limit_mm2"] = number(wall.wall.area_under_limit_mm2);
  out["area_at_risk_mm2"] = number(wall.wall.area_at_risk_mm2);
  out["regions"] = list(wall.wall.regions, region);
  out["causes"] = list(wall.wall.causes, cause);
  if (wall.wall.chance)
    out["chance"] = chance(*wall.wall.chance);
  return out;
}

Json place(Point2 p) {
  return {number(p.x), number(p.y)};
}

Json seam_cause(const SeamCause& cause) {
  Json out = named_cause(cause.id);
  out["expected_mm"] = number(cause.expected_mm);
  out["half_width_mm"] = number(cause.half_width_mm);
  return out;
}

Json seam(const SeamRow& row) {
  Json out = {{"with", row.with}};
  if (row.board != row.other_board) {
    out["board"] = row.board + 1;
    out["board_of_other"] = row.other_board + 1;
  }
  out["expected_mm"] = number(row.expected_mm);
  out["in_19_of_20_mm"] = number(row.in_19_of_20_mm);
  out["worst_mm"] = number(row.worst_mm);
  out["trials"] = row.trials;
  out["at_mm"] = place(row.largest.at);
  out["at_in_other_mm"] = place(row.largest.at_other);
  out["causes"] = list(row.causes, seam_cause);
  return out;
}

Json gap(const BoardRow::Gap& row) {
  Json out = Json::object();
  if (!row.part.empty())
    out["part"] = row.part;
  out["to"] = gap_key(row.to);
  if (!row.other.empty())
    out["other"] = row.other;
  out["mm"] = number(row.mm);
  if (row.to_middle)
    out["to_middle"] = true;
  return out;
}

Json board(const BoardRow& row) {
  Json out = Json::object();
  if (row.fits)
    out["fits"] = *row.fits;
  if (row.parts_off_bed_mm)
    out["overhang_mm"] = number(std::max(*row.parts_off_bed_mm, row.board_off_bed_mm.value_or(0)));
  if (row.parts_off_bed_mm)
    out["parts_overhang_mm"] = number(*row.parts_off_bed_mm);
  out["gaps"] = list(row.gaps, gap);
  return out;
}

/// Walls that stand together in one part.
Json parts(const std::vector<NamedWall>& walls, const std::vector<SeamRow>& seams) {
  Json out = Json::array();
  for (std::size_t w = 0; w < walls.size(); ++w) {
    if (w == 0 || walls[w].part != walls[w - 1].part) {
      Json part = Json::object();
      if (!walls[w].part.empty())
        part["name"] = walls[w].part;
      part["walls"] = Json::array();
      out.push_back(std::move(part));
    }
    out.back()["walls"].push_back(wall_of_part(walls[w]));
    if (w + 1 == walls.size() || walls[w + 1].part != walls[w].part)
      for (const SeamRow& row : seams)
        if (row.part == walls[w].part)
          out.back()["seam"] = seam(row);
  }
  return out;
}

} // namespace

std::string json_report(const CheckReport& report) {
  Json out = {{"schema", kCheckSchemaId}, {"units", "mm"}, {"title", report.title}};
  out["verdict"] = verdict_word(report.wall.verdict);
  out["headline"] = headline_line(report);
  if (!report.basis.text.empty())
    out["verdict_basis"] = report.basis.text;
  out["limit_mm"] = number(report.wall.limit_mm);
  if (report.wall.measured_to_mm)
    out["measured_to_mm"] = number(*report.wall.measured_to_mm);
  out["least_wall"] = least_wall(report.wall.least_wall);
  if (!report.walls.empty()) {
    const NamedWall& wall = report.walls[report.governing];
    out["governing"] = named(wall);
    if (!wall.part.empty())
      out["governing"]["part"] = wall.part;
  }
  out["area_under_limit_mm2"] = number(report.wall.area_under_limit_mm2);
  out["area_at_risk_mm2"] = number(report.wall.area_at_risk_mm2);
  out["skin_area_mm2"] = number(report.skin_area_mm2);
  out["left_out_area_mm2"] = number(report.left_out_area_mm2);
  out["regions"] = list(report.wall.regions, region);
  if (report.wall.chance)
    out["chance"] = chance(*report.wall.chance);
  out["causes"] = list(report.wall.causes, cause);
  out["advice"] = list(report.advice, advice_json);
  if (report.resurface)
    out["resurface"] = resurface_json(*report.resurface);
  if (report.pad)
    out["pad"] = pad(*report.pad);
  out["parts"] = parts(report.walls, report.parts.seams);
  out["board"] = board(report.parts.board);
  out["warnings"] = list(report.warnings, warning);
  out["assumptions"] = lines_of(report.assumptions);
  for (const StatedKey& one : report.stated)
    out["stated"].push_back({{"key", one.key}, {"value", one.value}});
  out["not_checked"] = report.not_checked;
  out["meshes"] = {
      {"pocket", {{"file", report.pocket.file}, {"triangles", report.pocket.triangles}}},
      {"skin", {{"file", report.skin.file}, {"triangles", report.skin.triangles}}},
      {"top_z_mm", number(report.top_z_mm)}};
  if (!report.box.empty())
    out["meshes"]["box_mm"] = {{"low", point(report.box.low)}, {"high", point(report.box.high)}};
  return out.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

} // namespace leastwall
