#include "browser/first_job.h"

#include "gourd_mesh.h"
#include "job/keys/sample_text.h"
#include "job/start_job.h"

#include <nlohmann/json.hpp>

namespace leastwall {

std::string job_of_answers(std::string_view answers) {
  using Json = nlohmann::json;
  const Json given = Json::parse(answers);
  StatedValues values{{"board", ""},
                      {"side_a", ""},
                      {"side_a.zero", "\"top\""},
                      {"side_b", ""},
                      {"side_b.zero", "\"top\""},
                      {"bed", ""},
                      {"part", ""},
                      {"part.pocket", ""}};
  // A text in JSON is one in TOML.
  const auto state = [&](const char* path, const char* answer) {
    const std::string text = given.value(answer, "");
    if (!text.empty())
      values.emplace_back(path, Json(text).dump());
  };
  state("title", "title");
  state("units", "units");
  state("limit", "limit");
  state("board.thickness", "thickness");
  state("side_a.touch_off", "touch_off");
  state("side_b.touch_off", "touch_off");
  state("bed.flatness", "flatness");
  state("part.skin", "skin");
  state("part.pocket.mesh", "pocket");
  if (given.value("units", "") == "inch") {
    values.emplace_back("part.placing", "");
    state("part.placing.units", "units");
  }
  return sample_text(
      "A job for leastwall, begun with two meshes in a browser. Lines that begin with # and a "
      "blank explain. Lines that begin with # and no blank are keys left out: take the # away "
      "to state them.\nModel frame: x right, y away, z up out of the pocket face.",
      values);
}

std::string write_demo() {
  const GourdNumbers numbers;
  demo::GourdMeshOptions options;
  options.part = demo::GourdPart::pocket;
  demo::write_gourd(numbers.pocket, options);
  options.part = demo::GourdPart::skin;
  demo::write_gourd(numbers.skin, options);
  return gourd_job(numbers, JobKeys::stated);
}

} // namespace leastwall
