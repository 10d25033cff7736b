#include "job/form/new_job.h"

#include "job/read_job.h"

#include <doctest/doctest.h>
#include <map>
#include <set>
#include <stdexcept>

using namespace leastwall;

namespace {

const NewJob::Meshes kMeshes{"bowl \"2\"", "skin.stl", "../in/pocket.stl", "mm"};

Job job_of(const NewJob& job) {
  return parse_job(job.text(), {.name = "new.toml", .folder = "demo", .files_must_exist = false});
}

/// Answers every question; what is not in `answers` gets an empty one.
void answer_all(NewJob& job, const std::map<std::string, std::string>& answers) {
  for (auto q = job.next(); q; q = job.next()) {
    CAPTURE(q->path);
    const auto found = answers.find(q->path);
    const NewJob::Judged judged = job.answer(found == answers.end() ? "" : found->second);
    CAPTURE(judged.wrong);
    REQUIRE(judged.wrong.empty());
  }
}

const std::map<std::string, std::string> kAnswers{{"limit", "0,6"},
                                                  {"accepted_chance", "1 in 50"},
                                                  {"board.thickness", "1.5 in"},
                                                  {"board.thickness_error", "0.2"},
                                                  {"side_a.zero", "top"},
                                                  {"side_a.touch_point", "-50; -30"},
                                                  {"side_a.touch_off", "0.05"},
                                                  {"bed.flatness", "0.1"},
                                                  {"flip.line", "along x"},
                                                  {"flip.located_by", "dowels"},
                                                  {"flip.dowels.clearance", "0.04"},
                                                  {"flip.dowels.spacing", "200"},
                                                  {"side_b.zero", "bed"},
                                                  {"side_b.touch_off", "{standard = 0.02}"},
                                                  {"side_b.sanding", "0.03"}};

} // namespace

TEST_CASE("answers become the job that the reader reads") {
  NewJob job(kMeshes);
  CHECK(job.next()->of == 16);
  answer_all(job, kAnswers);
  const Job read = job_of(job);
  const Pocket& pocket = read.parts.at(0).pockets.at(0);
  CHECK(read.title == "bowl \"2\"");
  CHECK(pocket.limit_mm == 0.6);
  CHECK(read.accepted_chance == 0.02);
  CHECK(read.board.assumed_thickness_mm == doctest::Approx(38.1)); // 1.5 * 25.4
  CHECK(read.board.thickness_error.size_mm == 0.2);
  CHECK(pocket.side_a.touch_point == Point2{-50, -30});
  CHECK_FALSE(pocket.side_b.touch_point);
  CHECK(pocket.side_b.touch_off.knowledge == Knowledge::standard);
  CHECK(pocket.side_b.zero == ZeroFrom::bed);
  CHECK(read.flip->dowels->spacing_mm == 200);
  CHECK(read.flip->line == FlipLine::along_x);
  CHECK(read.bed.flatness_mm == 0.1);
  CHECK(read.parts[0].skin == std::filesystem::path("demo/skin.stl"));
  CHECK(job.text().find("\n# The thinnest wall you accept.") != std::string::npos); // explained
}

TEST_CASE("a board found by its edges is asked for the error of the line, not for dowels") {
  NewJob job(kMeshes);
  auto answers = kAnswers;
  answers["flip.located_by"] = "edges";
  answers["flip.line_error"] = "0.05";
  answer_all(job, answers);
  const Job read = job_of(job);
  CHECK(read.flip->located_by == LocatedBy::edges);
  CHECK_FALSE(read.flip->dowels);
  CHECK(read.flip->line_error.size_mm == 0.05);
}

TEST_CASE("what must be known has no usual answer, and no empty one is taken") {
  NewJob job(kMeshes);
  std::set<std::string> must;
  for (auto q = job.next(); q; q = job.next()) {
    if (q->usual.empty()) {
      must.insert(q->path);
      CHECK(job.answer("").wrong == "this must be stated");
      CHECK(job.answer(" \t").wrong == "this must be stated");
      CHECK(job.next()->path == q->path);
    }
    REQUIRE(job.answer(kAnswers.contains(q->path) ? kAnswers.at(q->path) : "").wrong.empty());
  }
  CHECK(must == std::set<std::string>{"limit", "board.thickness", "side_a.zero", "side_a.touch_off",
                                      "bed.flatness", "flip.located_by", "flip.dowels.clearance",
                                      "flip.dowels.spacing", "side_b.zero", "side_b.touch_off"});
}

TEST_CASE("a wrong answer says why and leaves the question open; one that counts as 0 says so") {
  NewJob job(kMeshes);
  const NewJob::Judged wrong = job.answer("thin");
  CHECK_FALSE(wrong.wrong.empty());
  CHECK(wrong.wrong.find("the answers") == std::string::npos); // no file name
  CHECK(job.next()->path == "limit");
  CHECK_FALSE(job.answer("-1").wrong.empty());
  CHECK_THROWS_AS(job.text(), std::logic_error);
  CHECK(job.answer("0.6").wrong.empty());
  while (job.next()->path != "side_b.sanding")
    REQUIRE(job.answer(kAnswers.contains(job.next()->path) ? kAnswers.at(job.next()->path) : "")
                .wrong.empty());
  CHECK(job.next()->usual == "0 mm");
  const NewJob::Judged zero = job.answer("");
  REQUIRE(zero.notes.size() == 1);
  CHECK(zero.notes[0].find("counts as 0") != std::string::npos);
  CHECK_FALSE(job.next());
  CHECK_THROWS_AS(job.answer("1"), std::logic_error);
}

TEST_CASE("bare numbers are in the unit that was chosen") {
  NewJob::Meshes meshes = kMeshes;
  meshes.units = "inch";
  NewJob job(meshes);
  auto answers = kAnswers;
  answers["limit"] = "0.03";
  answers["flip.dowels.spacing"] = "8";
  answers["side_a.touch_point"] = "-2; -1";
  answers["board.thickness"] = "1.5";
  for (const char* small : {"board.thickness_error", "side_a.touch_off", "bed.flatness",
                            "flip.dowels.clearance", "side_b.sanding"})
    answers[small] = "0.002";
  answer_all(job, answers);
  const Job read = job_of(job);
  CHECK(read.parts.at(0).pockets.at(0).limit_mm == doctest::Approx(0.762)); // 0.03 * 25.4
  CHECK(read.flip->dowels->spacing_mm == doctest::Approx(203.2));
}
