// The demo jobs' advice, done: written into the job file, checked again by the program.
#include "app/small_piece.h"

#include <cmath>
#include <nlohmann/json.hpp>
#include <sstream>

using namespace leastwall;
using namespace leastwall::test;
using Json = nlohmann::ordered_json;

namespace {

std::string toml(const Json& value) {
  if (value.is_object())
    return "{standard = " + value.at("standard").dump() + "}";
  return value.dump();
}

/// The job with `key` of its table stated so, or without it.
std::string with_key(const std::string& job, const std::string& path, const Json& value) {
  const std::size_t dot = path.rfind('.');
  const std::string table = path.substr(0, dot), key = path.substr(dot + 1);
  std::istringstream in(job);
  std::string out, line, inside;
  bool stated = false;
  while (std::getline(in, line)) {
    if (line.starts_with("["))
      inside =
          line.substr(line.find_first_not_of('['), line.find(']') - line.find_first_not_of('['));
    if (inside == table && line.starts_with(key + " =")) {
      if (!value.is_null())
        out += key + " = " + toml(value) + "\n";
      stated = true;
      continue;
    }
    out += line + "\n";
  }
  if (stated || value.is_null())
    return out;
  const std::string head = "[" + table + "]\n";
  const std::size_t at = out.find(head);
  if (at == std::string::npos)
    return out + head + key + " = " + toml(value) + "\n";
  return out.insert(at + head.size(), key + " = " + toml(value) + "\n");
}

Json checked(const std::string& job) {
  const RunResult r = leastwall_program({"check", job, "--json", "-", "--quiet"});
  INFO(r.err);
  REQUIRE((r.status == 0 || r.status == 1));
  return Json::parse(r.out);
}

} // namespace

TEST_CASE("advice for the demo jobs, done: the promised verdict and gain") {
  int done = 0;
  for (const std::string name : {"gourd", "leaf"}) {
    const TempDir folder;
    REQUIRE(leastwall_program({"start", folder.path().string(), "--piece", name}).status == 0);
    const std::string job = file_text(folder.path() / (name + ".toml"));
    for (const std::string zero : {"as written", "top", "bed"}) {
      CAPTURE(name);
      CAPTURE(zero);
      std::string stated = job;
      if (zero != "as written") {
        stated = with_key(with_key(job, "side_a.zero", "bed"), "side_b.zero", zero);
        for (const std::string side : {"side_a", "side_b"})
          stated = with_key(stated, side + ".touch_point", nullptr);
        stated = with_key(stated, "bed.flatness", 0.3);
      }
      const Json now = checked(folder.file("now.toml", stated).string());
      if (name == "gourd" && zero == "as written") {
        CHECK(now["verdict"] == "at-risk");
        REQUIRE(now["advice"].size() > 1);
        CHECK(now["advice"][0]["cost"] == "free");
        CHECK(now["advice"][0]["verdict"] == "safe");
      }
      for (const Json& advice : now["advice"]) {
        if (advice["cost"] == "model")
          continue;
        CAPTURE(advice.dump());
        std::string text = stated;
        for (const auto& [key, value] : advice.at("set").items())
          text = with_key(text, key, value);
        const Json then = checked(folder.file("then.toml", text).string());
        CHECK(then["verdict"] == advice["verdict"]);
        ++done;
      }
    }
  }
  CHECK(done > 12);
}
