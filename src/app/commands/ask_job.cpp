#include "app/commands/ask_job.h"

#include "app/os/read_line.h"
#include "app/os/standard_streams.h"
#include "base/errors.h"
#include "base/text/trimmed.h"
#include "base/text/wrap_text.h"
#include "job/form/new_job.h"
#include "job/read_job.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace leastwall {
namespace {

namespace fs = std::filesystem;

constexpr int kColumns = 80;
constexpr int kMostWrong = 20; // answers to one question: what comes through a pipe may never end

void say(std::string_view text, std::string_view first = "") {
  print_out(wrap_text(printable(text), kColumns, first));
}

std::string answer_to(std::string_view prompt) {
  print_out(fmt::format("  {}> ", prompt));
  const std::optional<std::string> line = read_line();
  if (!line)
    throw InputError("the answers ended before the questions did; nothing was written");
  return std::string(trimmed(*line, " \t\r"));
}

[[noreturn]] void too_often() {
  throw InputError(
      fmt::format("{} answers to one question could not be used; nothing was written", kMostWrong));
}

/// A mesh that is there; one that was given on the command line is not asked for again.
fs::path mesh(std::string_view what, const std::string& given) {
  const auto fault = [](const std::string& name) {
    std::error_code ignored;
    return name.empty()                         ? std::string("this must be stated")
           : fs::is_regular_file(name, ignored) ? std::string()
                                                : name + ": there is no such file";
  };
  if (!given.empty()) {
    if (const std::string wrong = fault(given); !wrong.empty())
      throw InputError(wrong);
    return given;
  }
  for (int wrong = 0; wrong < kMostWrong; ++wrong) {
    say(what);
    const std::string name = answer_to("");
    const std::string why = fault(name);
    if (why.empty())
      return name;
    say(why, "  ! ");
  }
  too_often();
}

std::string_view unit() {
  for (int wrong = 0; wrong < kMostWrong; ++wrong) {
    say("Unit of numbers without one, and of meshes that state none: mm or inch");
    const std::string word = answer_to("[mm] ");
    if (word.empty() || word == "mm")
      return "mm";
    if (word == "inch" || word == "in")
      return "inch";
    say("mm or inch", "  ! ");
  }
  too_often();
}

/// As it stands in a job in `folder`.
std::string seen_from(const fs::path& folder, const fs::path& file) {
  if (file.is_absolute())
    return file.string();
  const fs::path from = fs::weakly_canonical(fs::absolute(folder));
  return fs::weakly_canonical(fs::absolute(file)).lexically_relative(from).generic_string();
}

void ask(NewJob& job) {
  int wrong = 0;
  for (auto q = job.next(); q; q = job.next()) {
    const std::string choices =
        q->key->choices.empty() ? "" : fmt::format(" ({})", fmt::join(q->key->choices, ", "));
    if (wrong == 0) {
      print_out("\n");
      say(fmt::format("{} of {}: {}{}", q->number, q->of, q->text, choices));
      say(q->key->help, "  ");
    }
    const NewJob::Judged judged =
        job.answer(answer_to(q->usual.empty() ? "" : fmt::format("[{}] ", q->usual)));
    for (const std::string& note : judged.notes)
      say(note, "  ! ");
    if (judged.wrong.empty()) {
      wrong = 0;
      continue;
    }
    say(judged.wrong, "  ! ");
    if (++wrong == kMostWrong)
      too_often();
  }
}

} // namespace

AskedJob ask_job(const fs::path& folder, const std::string& pocket, const std::string& skin) {
  say("A line an answer. Enter takes what stands in brackets; Ctrl-C ends, and nothing is "
      "written.");
  AskedJob out;
  out.pocket = mesh("Mesh of the pocket, cut first (side A)", pocket);
  out.skin = mesh("Mesh of the outer skin (side B)", skin);
  const std::string_view units = unit();
  NewJob job({out.skin.stem().string(), seen_from(folder, out.skin), seen_from(folder, out.pocket),
              units});
  ask(job);
  out.text = job.text();
  JobTextOptions options;
  options.name = "the answers";
  options.folder = folder;
  options.files_must_exist = false;
  parse_job(out.text, options); // each answer is right; together they may still contradict
  print_out("\n");
  return out;
}

} // namespace leastwall
