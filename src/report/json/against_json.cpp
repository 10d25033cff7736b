#include "report/json/against_json.h"

#include "report/json/json_report.h"
#include "report/json/json_values.h"

#include <utility>
#include <vector>

namespace leastwall {
namespace {

Json words(const std::string& before, const std::string& after) {
  Json out = Json::object();
  if (!before.empty())
    out["before"] = before;
  if (!after.empty())
    out["after"] = after;
  return out;
}

Json number(const ComparedNumber& value) {
  Json out = Json::object();
  if (value.before)
    out["before"] = json_number(*value.before);
  if (value.after)
    out["after"] = json_number(*value.after);
  return out;
}

Json wall(const ComparedWall& wall) {
  Json out = Json::object();
  if (!wall.name.empty())
    out["name"] = wall.name;
  out["verdict"] = words(wall.verdict_before, wall.verdict_after);
  out["expected_mm"] = number(wall.expected_mm);
  out["worst_mm"] = number(wall.worst_mm);
  out["under_limit"] = number(wall.too_thin);
  return out;
}

Json differences(const std::vector<ComparedWords>& rows) {
  Json out = Json::array();
  for (const ComparedWords& row : rows) {
    Json one = {{"what", row.what}};
    one.update(words(row.before, row.after));
    out.push_back(std::move(one));
  }
  return out;
}

} // namespace

std::string json_report_against(const CheckReport& report, const Comparison& against) {
  Json out = Json::parse(json_report(report));
  Json& member = out["against"] = {{"file", against.file}, {"job", wall(against.whole)}};
  member["setup"] = differences(against.setup);
  member["no_longer_left_out"] = against.stated_now;
  member["left_out_now"] = against.left_out_now;
  member["meshes"] = differences(against.meshes);
  member["walls"] = Json::array();
  for (const ComparedWall& one : against.walls)
    member["walls"].push_back(wall(one));
  member["walls_of_one"] = against.walls_of_one;
  return out.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

} // namespace leastwall
