#include "report/json/bed_json.h"

#include "report/json/advice_json.h"
#include "report/json/json_values.h"
#include "report/json/resurface_report.h"

#include <algorithm>

namespace leastwall {
namespace {

double number(double value) {
  return json_number(value);
}

double micrometres(double mm) {
  return json_number(mm * 1000);
}

Json reading(const Vec3& p) {
  return {{"x_mm", number(p.x)}, {"y_mm", number(p.y)}, {"height_mm", number(p.z)}};
}

Json notices(const std::vector<Notice>& rows) {
  Json out = Json::array();
  for (const Notice& n : rows)
    out.push_back({{"code", n.code}, {"text", n.text}});
  return out;
}

Json warnings(const std::vector<Notice>& rows) {
  Json out = notices(rows);
  for (std::size_t i = 0; i < rows.size(); ++i)
    out[i]["severity"] = severity_word(rows[i].severity);
  return out;
}

void set(Json& out, const char* key, const std::optional<double>& value) {
  if (value)
    out[key] = number(*value);
}

const char* kind_word(ReadingsKind kind) {
  switch (kind) {
  case ReadingsKind::heights:
    return "heights";
  case ReadingsKind::gaps:
    return "gaps";
  case ReadingsKind::thickness:
    break;
  }
  return "thickness";
}

Json flatness(const Flatness& f) {
  Json out = {{"range_um", micrometres(f.range_mm)},
              {"least_squares_um", micrometres(f.least_squares.peak_to_valley_mm)},
              {"rms_um", micrometres(f.least_squares.rms_mm)},
              {"minimum_zone_um", micrometres(f.minimum_zone.normal_mm)},
              {"minimum_zone_type", f.minimum_zone.type()},
              {"contacts", Json::array()}};
  for (const ZoneContact& c : f.minimum_zone.contacts) {
    Json row = reading(c.at);
    row["plane"] = c.upper ? "upper" : "lower";
    row["weight"] = number(c.weight);
    out["contacts"].push_back(std::move(row));
  }
  return out;
}

Json shape(const BedShape& s) {
  Json out = Json::object();
  set(out, "crown_x_mm", s.crown_x_mm);
  set(out, "crown_y_mm", s.crown_y_mm);
  set(out, "twist_mm", s.twist_mm);
  if (s.ridges)
    out["ridges"] = {{"along", s.ridges->along_x ? "x" : "y"},
                     {"apart_mm", number(s.ridges->apart_mm)},
                     {"height_mm", number(s.ridges->height_mm)}};
  for (const BedShape::Step& step : s.steps)
    out["steps"].push_back({{"along", step.along_x ? "x" : "y"},
                            {"at_mm", number(step.at_mm)},
                            {"height_mm", number(step.height_mm)}});
  for (const OffSurface& lone : s.lone)
    out["lone_readings"].push_back({{"x_mm", number(lone.at.x)},
                                    {"y_mm", number(lone.at.y)},
                                    {"off_mm", number(lone.height_mm)}});
  return out;
}

void add_readings(Json& out, const BedReadings& r) {
  const BedMap& map = r.read.map;
  Vec3 low = map.points()[0], high = low;
  for (const Vec3& p : map.points()) {
    low = {std::min(low.x, p.x), std::min(low.y, p.y), 0};
    high = {std::max(high.x, p.x), std::max(high.y, p.y), 0};
  }
  out["file"] = r.file;
  out["measures"] = kind_word(r.read.kind);
  out["readings"] = {{"count", r.read.readings},
                     {"missing", r.read.missing},
                     {"repeated", r.read.repeated},
                     {"layout", map.is_grid() ? "grid" : "scattered"},
                     {"low_mm", {number(low.x), number(low.y)}},
                     {"high_mm", {number(high.x), number(high.y)}}};
  out["understood"] = r.read.understood;
  out["flatness"] = flatness(r.flatness);
  if (r.flatness.tilt_x_mm_per_m || r.flatness.tilt_y_mm_per_m) {
    Json tilt = Json::object();
    set(tilt, "x_mm_per_m", r.flatness.tilt_x_mm_per_m);
    set(tilt, "y_mm_per_m", r.flatness.tilt_y_mm_per_m);
    set(tilt, "x_deg", r.flatness.tilt_x_deg);
    set(tilt, "y_deg", r.flatness.tilt_y_deg);
    out["tilt"] = std::move(tilt);
  }
  out["shape"] = shape(r.flatness.shape);
  out["highest"] = reading(r.flatness.highest);
  out["lowest"] = reading(r.flatness.lowest);
  out["likely_causes"] = notices(r.flatness.likely_causes);
}

Json sag(const SagRow& row) {
  Json out = {{"bed", row.bed}};
  if (row.board) {
    out["board_weight_n"] = number(row.board_weight_n);
    out["board_lies"] = row.load;
    out["after_surfacing_mm"] = number(row.board->largest_mm);
  }
  out["own_weight_mm"] = number(row.own.largest_mm);
  return out;
}

Json tram(const TramRow& row) {
  Json out = {{"lean_deg", number(row.lean_deg)}};
  if (row.marks) {
    out["dish_mm"] = number(row.marks->dish_mm);
    out["cusp_mm"] = number(row.marks->cusp_mm);
    out["ridges_mm"] = number(row.marks->saw_tooth_mm);
  }
  return out;
}

Json piece(const BedPiece& p) {
  Json out = {{"job", p.job},
              {"title", p.title},
              {"verdict", verdict_word(p.verdict)},
              {"limit_mm", number(p.limit_mm)},
              {"least_expected_mm", number(p.least_expected_mm)},
              {"advice", Json::array()}};
  for (const AdviceRow& a : p.advice)
    out["advice"].push_back(advice_json(a));
  return out;
}

} // namespace

std::string bed_json(const BedReport& report) {
  Json out = {{"schema", kBedSchemaId}, {"units", "mm"}};
  if (report.readings)
    add_readings(out, *report.readings);
  if (report.sag)
    out["sag"] = sag(*report.sag);
  if (report.tram)
    out["tram"] = tram(*report.tram);
  if (report.piece)
    out["piece"] = piece(*report.piece);
  if (report.resurface)
    out["resurface"] = resurface_json(*report.resurface);
  out["warnings"] = warnings(report.warnings);
  out["assumptions"] = lines_of(report.assumptions);
  return out.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

} // namespace leastwall
