#include "report/json/pour_json.h"

#include "report/json/json_values.h"
#include "report/words/pour_words.h"

namespace leastwall {
namespace {

constexpr double kMm3_per_ml = 1000;

double ml(double mm3) {
  return json_number(mm3 / kMm3_per_ml);
}

void set(Json& out, const char* key, const std::optional<double>& value, double unit = 1) {
  if (value)
    out[key] = json_number(*value / unit);
}

/// "2026-03-14T18:00", ISO 8601.
std::string iso(ClockTime at) {
  std::string text = clock_time_text(at).substr(4);
  text[10] = 'T';
  return text;
}

class Writer {
 public:
  explicit Writer(const PourReport& report) : r_(report) {}

  Json write() const {
    Json out = {{"schema", kPourSchemaId}, {"units", "mm, ml, g, hours"}, {"title", r_.title}};
    if (r_.start)
      out["start"] = iso(*r_.start);
    if (r_.tilt) {
      out["tilt"] = {{"mm_per_m", json_number(1000 * r_.tilt->slope)}};
      set(out["tilt"], "towards_deg", r_.tilt->towards_deg);
    }
    out["pockets"] = Json::array();
    for (const PourRow& row : r_.rows)
      out["pockets"].push_back(pocket(row));
    out["altogether"] = Json::array();
    for (const PourTotal& total : r_.totals) {
      Json one = {{"material", total.material}, {"mix_ml", ml(total.mix_mm3)}};
      add(one, total.amounts);
      out["altogether"].push_back(std::move(one));
    }
    if (r_.side_b_h)
      out["side_b"] = when(*r_.side_b_h);
    out["warnings"] = Json::array();
    for (const PourWarning& w : r_.warnings)
      out["warnings"].push_back({{"code", w.notice.code},
                                 {"severity", severity_word(w.notice.severity)},
                                 {"text", warning_sentence(r_, w)}});
    out["before_you_pour"] = pour_cautions();
    out["not_checked"] = pour_not_checked();
    return out;
  }

 private:
  Json when(double hours) const {
    Json out = {{"after_h", json_number(hours)}};
    if (r_.start)
      out["at"] = iso(later(*r_.start, hours));
    return out;
  }

  static void add(Json& out, const Amounts& amounts) {
    set(out, "a_ml", amounts.a_mm3, kMm3_per_ml);
    set(out, "b_ml", amounts.b_mm3, kMm3_per_ml);
    set(out, "a_g", amounts.a_g);
    set(out, "b_g", amounts.b_g);
  }

  static Json stated(const Resin& resin) {
    Json out = Json::object();
    if (resin.ratio)
      out["ratio"] = {{"a", json_number(resin.ratio->a)},
                      {"b", json_number(resin.ratio->b)},
                      {"by", resin.ratio->by_weight ? "weight" : "volume"}};
    set(out, "density_a_g_per_cm3", resin.density_a);
    set(out, "density_b_g_per_cm3", resin.density_b);
    set(out, "deepest_lift_mm", resin.deepest_lift_mm);
    set(out, "hours_between_lifts", resin.hours_between_lifts);
    set(out, "hours_until_cut", resin.hours_until_cut);
    set(out, "overage_percent", resin.overage_percent);
    set(out, "cup_ml", resin.cup_ml);
    set(out, "seal_coat_g_per_m2", resin.seal_coat_g_per_m2);
    set(out, "thin_wall_mm", resin.thin_wall_mm);
    return out;
  }

  Json lift(const PourLift& l) const {
    Json out = {{"thickness_mm", json_number(l.thickness_mm)},
                {"under_face_mm", json_number(l.under_face_mm)},
                {"volume_ml", ml(l.volume_mm3)},
                {"mix_ml", ml(l.mix_mm3)}};
    add(out, l.amounts);
    out["pools"] = l.pools;
    if (l.cups)
      out["cups"] = *l.cups;
    if (l.after_h)
      out["when"] = when(*l.after_h);
    return out;
  }

  Json pocket(const PourRow& row) const {
    Json out = {{"pocket", row.name.pocket}, {"material", row.name.material}};
    if (!row.name.inside.empty())
      out["inside"] = row.name.inside;
    out["parts"] = row.name.parts;
    out["count"] = row.count();
    out["stage"] = row.stage + 1;
    out["stated"] = stated(row.resin);
    out["depth_mm"] = json_number(row.depth_mm);
    out["area_mm2"] = json_number(row.area_mm2);
    if (row.volume) {
      const PourVolume& v = *row.volume;
      out["volume_ml"] = ml(v.mm3);
      out["may_be_less_ml"] = ml(v.less_mm3);
      out["may_be_more_ml"] = ml(v.more_mm3);
      out["cut_out_later_ml"] = ml(v.later_mm3);
      out["cut_out_later_is_exact"] = v.later_exact;
      out["by_depth"] = Json::array();
      for (const PourVolume::Level& level : v.by_depth)
        out["by_depth"].push_back(
            {{"under_face_mm", json_number(level.under_face_mm)}, {"volume_ml", ml(level.mm3)}});
      out["mix_ml"] = ml(row.mix_mm3);
      add(out, row.amounts);
    }
    out["lifts"] = Json::array();
    for (const PourLift& l : row.lifts)
      out["lifts"].push_back(lift(l));
    if (row.tilted) {
      const TiltedPour& t = *row.tilted;
      out["off_level"] = {{"lowest_towards_deg", json_number(t.towards_deg)},
                          {"short_at_high_rim_mm", json_number(t.short_mm)},
                          {"holds_ml", ml(t.brim_mm3)},
                          {"measured_amount_over_low_rim_mm", json_number(t.over_mm)},
                          {"measured_amount_under_high_rim_mm", json_number(t.under_mm)},
                          {"with_dam_ml", ml(t.dammed_mm3)},
                          {"skim_mm", json_number(t.short_mm)}};
    }
    if (row.thin)
      out["thin_wall"] = {{"under_mm", json_number(row.thin->limit_mm)},
                          {"area_mm2", json_number(row.thin->area_mm2)},
                          {"least_mm", json_number(row.thin->least_mm)},
                          {"at_mm", json_point(row.thin->at)}};
    if (row.seal_g)
      out["seal_coat_g"] = json_number(*row.seal_g);
    if (row.starts_h)
      out["starts"] = when(*row.starts_h);
    if (row.may_be_cut_h)
      out["may_be_cut"] = when(*row.may_be_cut_h);
    out["asked_for"] = row.asked;
    return out;
  }

  const PourReport& r_;
};

} // namespace

std::string pour_json(const PourReport& report) {
  return Writer(report).write().dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

} // namespace leastwall
