// A key of a job changed in its text: the value is there when the job is read, and nothing else is
// another.
#include "job/edit_job.h"

#include "base/errors.h"
#include "job/job_digest.h"
#include "job/read_job.h"
#include "job/start_job.h"

#include <algorithm>
#include <doctest/doctest.h>
#include <fmt/ranges.h>
#include <vector>

using namespace leastwall;
using namespace leastwall::test;

namespace {

std::string edited(std::string_view text, std::vector<KeyEdit> edits) {
  return edited_job(text, "j.toml", edits);
}

std::string refused(std::string_view text, std::vector<KeyEdit> edits) {
  try {
    (void)edited(text, std::move(edits));
  } catch (const InputError& error) {
    return error.what();
  }
  return "accepted";
}

Job job_from(const std::string& text) {
  return parse_job(text, {.name = "j.toml", .folder = "demo", .files_must_exist = false});
}

/// Lines of `b` that are not those of `a`, in their order; both without the lines that they share.
std::vector<std::string> new_lines(const std::string& a, const std::string& b) {
  const auto lines = [](const std::string& text) {
    std::vector<std::string> out;
    for (std::size_t at = 0; at < text.size();) {
      const std::size_t end = std::min(text.find('\n', at), text.size());
      out.push_back(text.substr(at, end - at));
      at = end + 1;
    }
    return out;
  };
  std::vector<std::string> old = lines(a), out;
  for (const std::string& line : lines(b))
    if (const auto found = std::find(old.begin(), old.end(), line); found != old.end())
      old.erase(found);
    else
      out.push_back(line);
  return out;
}

} // namespace

TEST_CASE("a key of a job: a new value in its place, its comment stays") {
  CHECK(edited("a = 1 # why\nb = 2\n", {{"a", "3.5"}}) == "a = 3.5 # why\nb = 2\n");
  CHECK(edited("[side_a]\nzero=\"t#p\"# x\n", {{"side_a.zero", "\"bed\""}}) ==
        "[side_a]\nzero=\"bed\"# x\n");
  CHECK(edited("[t]\nv = [1, # one\n  2,\n] # both\nw = 1", {{"t.v", "[0, 50]"}}) ==
        "[t]\nv = [0, 50] # both\nw = 1");
  CHECK(edited("[t]\nv = 'it#' # c\nw = 1\n", {{"t.v", "2"}}) == "[t]\nv = 2 # c\nw = 1\n");
  CHECK(edited("[t]\nw = \"a\\\"#\" # c\n", {{"t.w", "2"}}) == "[t]\nw = 2 # c\n");
  CHECK(edited("a = 1\r\nb = 2\r\n", {{"a", "3"}}) == "a = 3\r\nb = 2\r\n");
  CHECK(edited("[s]\nbit.plate = 1\n", {{"s.bit.plate", "2"}}) == "[s]\nbit.plate = 2\n");
  CHECK(edited("a = 1", {}) == "a = 1");
}

TEST_CASE("a key that is not stated: in place of its example, else first in its table") {
  CHECK(edited("[s]\n# How far.\n#to = 1\n# Next.\n#more = 2\n[t]\n#to = 7\n", {{"s.to", "5"}}) ==
        "[s]\n# How far.\nto = 5\n# Next.\n#more = 2\n[t]\n#to = 7\n");
  CHECK(edited("[s] # side\nx = 1\n", {{"s.to", "5"}}) == "[s] # side\nto = 5\nx = 1\n");
  CHECK(edited("[s]\nx = 1\n#[s.bit]\n# Which.\n#to = 2\n", {{"s.bit.to", "5"}}) ==
        "[s]\nx = 1\n[s.bit]\n# Which.\nto = 5\n");
  CHECK(edited("x = 1", {{"s.bit.to", "5"}}) == "x = 1\n\n[s.bit]\nto = 5\n");
  CHECK(edited("x = 1\r\n", {{"s.to", "5"}}) == "x = 1\r\n\r\n[s]\r\nto = 5\r\n");
  CHECK(edited("# Head.\n#limit = 1\n[s]\n#limit = 2\n", {{"limit", "5"}}) ==
        "# Head.\nlimit = 5\n[s]\n#limit = 2\n");
  CHECK(edited("\xEF\xBB\xBF[s]\nx = 1\n", {{"limit", "5"}}) ==
        "\xEF\xBB\xBFlimit = 5\n[s]\nx = 1\n");
  // An example over several lines stays as it is.
  CHECK(edited("[s]\n#to = [1,\n#  2]\n", {{"s.to", "[5]"}}) ==
        "[s]\nto = [5]\n#to = [1,\n#  2]\n");
  // A key of the same beginning is another one.
  CHECK(edited("[s]\n#total = 1\n", {{"s.to", "5"}}) == "[s]\nto = 5\n#total = 1\n");
}

TEST_CASE("a key that goes stays behind a #, over all its lines") {
  CHECK(edited("[s]\na = [1,\n 2]\nb = 1\n", {{"s.a", std::nullopt}}) ==
        "[s]\n#a = [1,\n# 2]\nb = 1\n");
  CHECK(edited("[s]\na = [1,\n2\n]\nb = 1\n", {{"s.a", std::nullopt}}) ==
        "[s]\n#a = [1,\n#2\n#]\nb = 1\n");
  CHECK(edited("[s]\nb = 1\n", {{"s.a", std::nullopt}}) == "[s]\nb = 1\n");
  const std::string back =
      edited("[s]\n#a = 3 # why\nb = 1\n", {{"s.a", "4"}, {"s.a", std::nullopt}});
  CHECK(back == "[s]\n#a = 4 # why\nb = 1\n");
}

TEST_CASE("with the last key of a table its header goes, and comes back with the next") {
  const std::string job =
      "limit = 1\n[flip]\nline = \"along y\"\n[flip.dowels] # pins\nspacing = 80\n";
  const KeyEdit none{"flip.dowels.spacing", std::nullopt};
  const std::string gone = edited_job(job, "job.toml", std::span(&none, 1));
  CHECK(gone == "limit = 1\n[flip]\nline = \"along y\"\n#[flip.dowels] # pins\n#spacing = 80\n");
  const KeyEdit other{"flip.dowels.spacing", "90"};
  CHECK(edited_job(gone, "job.toml", std::span(&other, 1))
            .find("\n[flip.dowels] # pins\nspacing = 90\n") != std::string::npos);
  // Line ends of the file, also in a value over several lines; a comment behind an example stays.
  const KeyEdit rows{"bed.readings", "[\n  [0, 0, 1],\n]"};
  CHECK(edited_job("[bed]\r\n#flatness = 0.1 # old\r\n", "job.toml", std::span(&rows, 1)) ==
        "[bed]\r\nreadings = [\r\n  [0, 0, 1],\r\n]\r\n#flatness = 0.1 # old\r\n");
  const KeyEdit flat{"bed.flatness", "0.2"};
  CHECK(edited_job("[bed]\n#flatness = 0.1 # old\n", "job.toml", std::span(&flat, 1)) ==
        "[bed]\nflatness = 0.2 # old\n");
  // A table with another one in it stays.
  const KeyEdit line{"flip.line", std::nullopt};
  CHECK(edited_job(job, "job.toml", std::span(&line, 1)).find("\n[flip]\n#line") !=
        std::string::npos);
}

TEST_CASE("what cannot be changed alone is refused, and nothing is changed") {
  // Tables on one line, keys of parts, the same header in a text, no TOML.
  for (const auto& [text, path] :
       std::vector<std::pair<std::string, std::string>>{{"s = {a = 1, b = 2}\n", "s.b"},
                                                        {"s = {a = 1}\n", "s.b"},
                                                        {"s = 1\n", "s.b"},
                                                        {"[[part]]\nname = \"x\"\n", "part.name"},
                                                        {"t = '''\n[s]\n'''\n", "s.b"},
                                                        {"s.a = 1\n", "s.b"},
                                                        {"[s]\na = 1\n", "s.\"b\""},
                                                        {"[s]\na = 1\n", ""}}) {
    CAPTURE(text);
    CHECK(refused(text, {{path, "5"}}).find("by hand") != std::string::npos);
  }
  CHECK(refused("s = {a = 1, b = 2}\n", {{"s.b", std::nullopt}}).find("take it out") !=
        std::string::npos);
  CHECK(refused("[s]\na = 1\n", {{"s.a", "5\nb = 3"}}).find("by hand") != std::string::npos);
  CHECK(refused("[s]\na = 1\n", {{"s.a", "5 6"}}).find("by hand") != std::string::npos);
  CHECK(refused("[s\n", {{"s.a", "5"}}).starts_with("j.toml:1:"));
  // The first key of a table on one line is found, but it is not all that would go.
  CHECK(refused("s = {a = 1, b = 2}\n", {{"s.a", "5"}}).find("by hand") != std::string::npos);
}

TEST_CASE("the job of the gourd takes what an advice says, and reads as changed") {
  const std::string text = gourd_job();
  const std::string made = edited(text, {{"side_a.zero", "\"bed\""},
                                         {"side_a.touch_point", "[0.0,50.0]"},
                                         {"side_b.touch_off", "{standard = 0.015}"},
                                         {"flip.at", "2"},
                                         {"side_b.roughing.allowance", "0.2"},
                                         {"side_b.roughing.touch_off", "0.07"}});
  CHECK(fmt::format("{}", fmt::join(new_lines(text, made), "; ")) ==
        "zero = \"bed\"; touch_point = [0.0,50.0]; touch_off = {standard = 0.015}; "
        "[side_b.roughing]; touch_off = 0.07; allowance = 0.2; at = 2");
  const Job was = job_from(text), now = job_from(made);
  const SideSetup& a = now.parts[0].pockets[0].side_a;
  CHECK(was.parts[0].pockets[0].side_a.zero == ZeroFrom::top);
  CHECK(a.zero == ZeroFrom::bed);
  CHECK(a.touch_point->x == 0);
  CHECK(a.touch_point->y == 50);
  CHECK(now.parts[0].pockets[0].side_b.roughing->allowance_mm == 0.2);
  CHECK(digest(was) != digest(now));
  CHECK(digest(job_from(edited(made, {{"side_b.roughing.allowance", "0.3"},
                                      {"side_b.roughing.allowance", "0.2"}}))) == digest(now));
}
