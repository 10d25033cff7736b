#include "job/start_job.h"

#include "base/errors.h"
#include "job/job_digest.h"
#include "job/keys/known_keys.h"
#include "job/keys/sample_text.h"
#include "job/read_job.h"

#include <algorithm>
#include <doctest/doctest.h>
#include <fmt/format.h>
#include <set>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

using namespace leastwall;

namespace {

Job parse_sample(const std::string& text) {
  return parse_job(text, {.name = "sample.toml", .folder = "demo", .files_must_exist = false});
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> out;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);)
    out.push_back(line);
  return out;
}

} // namespace

TEST_CASE("the gourd job reads back as the numbers it was written from") {
  const GourdNumbers n;
  const Job job = parse_sample(gourd_job(n));
  const Pocket& pocket = job.parts.at(0).pockets.at(0);
  const Setup setup = setup_of(job, pocket, 0);
  CHECK(pocket.limit_mm == n.limit_mm);
  CHECK(job.accepted_chance == 0.05);
  CHECK(job.parts[0].skin == std::filesystem::path("demo") / n.skin);
  CHECK(pocket.mesh == std::filesystem::path("demo") / n.pocket);
  CHECK(setup.board.assumed_thickness_mm == n.board_mm);
  CHECK_FALSE(setup.board.measured_thickness_mm);
  CHECK(setup.board.thickness_error.size_mm == n.thickness_error_mm);
  CHECK(setup.board.footprint == n.board);
  CHECK(setup.inner.zero == n.zero_a);
  CHECK(setup.outer.zero == n.zero_b);
  CHECK(setup.inner.touch_point == n.touch_point);
  CHECK(setup.inner.touch_off.size_mm == n.touch_off_mm);
  CHECK(setup.outer.touch_off.size_mm == n.touch_off_mm);
  CHECK(setup.outer.sanding_mm == n.sanding_b_mm);
  CHECK(setup.bed.flatness_mm == n.flatness_mm);
  CHECK(setup.flip.line == FlipLine::along_y);
  CHECK(setup.flip.dowels->clearance_1_mm == 0.04);
}

TEST_CASE("each deciding number of the gourd job reaches the job") {
  GourdNumbers n;
  n.limit_mm = 0.61;
  n.board_mm = 47.25;
  n.thickness_error_mm = 0.11;
  n.touch_off_mm = 0.012;
  n.flatness_mm = 0.013;
  n.sanding_b_mm = 0.014;
  n.zero_a = ZeroFrom::bed;
  n.zero_b = ZeroFrom::bed;
  n.board = {{-101.5, -81}, {101.5, 82}};
  n.touch_point = {3, 4};
  n.skin = "s.stl";
  n.pocket = "p.stl";
  const Job job = parse_sample(gourd_job(n));
  const Pocket& pocket = job.parts.at(0).pockets.at(0);
  CHECK(pocket.limit_mm == 0.61);
  CHECK(job.board.assumed_thickness_mm == 47.25);
  CHECK(job.board.thickness_error.size_mm == 0.11);
  CHECK(pocket.side_a.touch_off.size_mm == 0.012);
  CHECK(job.bed.flatness_mm == 0.013);
  CHECK(pocket.side_b.sanding_mm == 0.014);
  CHECK(pocket.side_a.zero == ZeroFrom::bed);
  CHECK(pocket.side_b.zero == ZeroFrom::bed);
  CHECK(job.board.footprint == n.board);
  CHECK(pocket.side_b.touch_point == n.touch_point);
  CHECK(job.parts[0].skin.filename() == "s.stl");
  CHECK(pocket.mesh.filename() == "p.stl");
}

TEST_CASE("the leaf job reads back as the numbers it was written from") {
  const LeafNumbers n;
  const Job job = parse_sample(leaf_job(n));
  const Pocket& pocket = job.parts.at(0).pockets.at(0);
  CHECK(pocket.limit_mm == n.limit_mm);
  CHECK(job.board.assumed_thickness_mm == n.board_mm);
  CHECK(job.board.measured_thickness_mm == n.measured_mm);
  CHECK(pocket.side_a.plate_error_mm == n.plate_error_mm);
  CHECK(pocket.side_b.plate_error_mm == n.plate_error_mm);
  CHECK(pocket.side_a.touch_off.knowledge == Knowledge::standard);
  CHECK(pocket.side_a.touch_off.size_mm == n.touch_off_mm);
  CHECK(job.bed.flatness_mm == n.flatness_mm);
  CHECK(job.flip->located_by == LocatedBy::edges);
  CHECK(pocket.mesh.filename() == n.pocket);
}

TEST_CASE("a sample mentions every key, explains it once, and keeps to 80 columns") {
  for (const std::string& text : {gourd_job(), leaf_job()}) {
    const auto lines = lines_of(text);
    for (const std::string& line : lines)
      CHECK(line.size() <= 110);
    for (const std::string& line : lines)
      if (line.starts_with("# "))
        CHECK(line.size() <= 80);
    for (const KnownKey& key : known_keys()) {
      CAPTURE(key.owner);
      CAPTURE(key.name);
      bool found = false;
      for (const std::string& line : lines) {
        const std::string bare = line.starts_with('#') ? line.substr(1) : line;
        const bool table = key.type == KeyType::table || key.type == KeyType::tables;
        if (table && bare.starts_with('[') && bare.find(key.name) != std::string::npos)
          found = true;
        if (!table && bare.starts_with(fmt::format("{} = ", key.name)))
          found = true;
      }
      CHECK(found);
      const std::string first_text(key.help.substr(0, 12));
      CHECK(text.find(first_text) != std::string::npos);
    }
  }
}

TEST_CASE("no assumption is listed for a key that a sample states") {
  for (const std::string& text : {gourd_job(), leaf_job()}) {
    const Job job = parse_sample(text);
    std::string table;
    for (const std::string& line : lines_of(text)) {
      if (line.starts_with('['))
        table =
            line.substr(line.find_first_not_of('['), line.find(']') - line.find_first_not_of('['));
      if (line.empty() || line[0] == '#' || line[0] == '[')
        continue;
      const std::string key = line.substr(0, line.find(' '));
      const std::string path = table.empty() ? key : fmt::format("{}.{}", table, key);
      for (const Assumption& assumption : job.assumptions)
        CHECK(assumption.key != path);
    }
  }
}

TEST_CASE("a key left out of a sample works when its # is taken away") {
  const auto lines = lines_of(gourd_job());
  std::size_t tried = 0;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    if (!lines[i].starts_with('#') || lines[i].starts_with("# ") || lines[i].starts_with("#["))
      continue;
    std::string text;
    bool in_stated_table = true;
    for (std::size_t k = 0; k < lines.size(); ++k) {
      if (k <= i && (lines[k].starts_with('[') || lines[k].starts_with("#[")))
        in_stated_table = lines[k][0] == '[';
      text += (k == i ? lines[k].substr(1) : lines[k]) + '\n';
    }
    if (!in_stated_table)
      continue;
    CAPTURE(lines[i]);
    // It either reads, or a sentence says with which stated key it does not go.
    try {
      parse_sample(text);
    } catch (const InputError& error) {
      const std::string message = error.what();
      CAPTURE(message);
      const bool explained = message.find("both stated") != std::string::npos ||
                             message.find("means nothing without") != std::string::npos ||
                             message.find("needs") != std::string::npos ||
                             message.find("larger than sanding") != std::string::npos ||
                             message.find("there is no such file") != std::string::npos ||
                             message.find("touches the datum itself") != std::string::npos;
      CHECK(explained);
    }
    ++tried;
  }
  CHECK(tried > 30);
}

TEST_CASE("a sample cannot state a key that is not known") {
  CHECK_THROWS_AS(sample_text("", {{"board.colour", "1"}}), std::logic_error);
}

TEST_CASE("a short sample is the same job with fewer lines: only keys that are not stated go") {
  const auto same = [](const std::string& all, const std::string& few) {
    CHECK(test::digest(parse_sample(all)) == test::digest(parse_sample(few)));
    CHECK(few.size() < all.size() / 2);
    for (const std::string& line : lines_of(few)) {
      CAPTURE(line);
      CHECK(line.size() <= 110);
      CHECK((!line.starts_with('#') || line.starts_with("# "))); // no key behind a #
    }
    // What it states stands in the same words in the long one, in the same order.
    const auto lines = lines_of(all);
    auto at = lines.begin();
    for (const std::string& line : lines_of(few))
      if (!line.empty() && !line.starts_with('#')) {
        at = std::find(at, lines.end(), line);
        CAPTURE(line);
        REQUIRE(at != lines.end());
        ++at;
      }
  };
  same(whole_gourd_job(), whole_gourd_job({}, JobKeys::stated));
  same(leaf_job(), leaf_job({}, JobKeys::stated));
}

TEST_CASE("the short job of the half gourd states what decides, each key explained, and no resin") {
  const std::string text = gourd_job({}, JobKeys::stated);
  CHECK(text.find("resin]") == std::string::npos);
  Job all = parse_sample(gourd_job()), few = parse_sample(text);
  for (Part& part : all.parts)
    for (Pocket& pocket : part.pockets)
      pocket.resin.reset();
  CHECK(test::digest(all) == test::digest(few));
  CHECK(lines_of(text).size() < 120);
  std::string before;
  std::set<std::string> names; // side B has what side A explained
  for (const std::string& line : lines_of(text)) {
    if (!line.empty() && !line.starts_with('#') && !line.starts_with('[') &&
        names.insert(line.substr(0, line.find(' '))).second) {
      CAPTURE(line);
      CHECK(before.starts_with("# "));
    }
    before = line;
  }
}
