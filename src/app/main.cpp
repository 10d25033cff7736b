// The leastwall program: reads the command line, runs one command, answers with an exit status.
#include "app/bed_command.h"
#include "app/check_command.h"
#include "app/command_docs.h"
#include "app/help_format.h"
#include "app/last_resort.h"
#include "app/memory_habits.h"
#include "app/start_command.h"
#include "app/terminal.h"
#include "app/threads.h"
#include "job/nearest_key.h"
#include "report/wrap_text.h"

#include <algorithm>
#include <fmt/format.h>
#include <fmt/ranges.h>
#include <tbb/global_control.h>

namespace leastwall {
namespace {

/// CLI11's message on one line, ours to print.
ExitStatus refuse(const CLI::App& app, const CLI::ParseError& error) {
  std::string text = error.what();
  for (char& c : text)
    if (c == '\n')
      c = ' ';
  const std::vector<CLI::App*> parsed = app.get_subcommands();
  fmt::print(stderr, "leastwall: {}; see leastwall {}--help\n", printable(text),
             parsed.empty() ? "" : parsed.front()->get_name() + " ");
  return kWrongInput;
}

/// The first word must be a command: one line when it is none, otherwise nothing.
std::string unknown_command(const CLI::App& app, std::string_view word) {
  if (word.empty() || word.front() == '-')
    return {};
  std::vector<std::string_view> names;
  for (const CLI::App* command : app.get_subcommands([](const CLI::App*) { return true; }))
    names.emplace_back(command->get_name());
  if (std::ranges::find(names, word) != names.end())
    return {};
  const std::string_view near = nearest(word, names);
  return fmt::format("leastwall: there is no command \"{}\"{}; the commands are {}; see leastwall "
                     "--help\n",
                     printable(word),
                     near.empty() ? "" : fmt::format(" (did you mean \"{}\"?)", near),
                     fmt::join(names, ", "));
}

int run(int argc, char** argv) {
  CLI::App app("Checks the thin walls of a piece carved from both faces of one board, before any "
               "stock is committed.",
               "leastwall");
  app.set_version_flag("--version", "leastwall " LEASTWALL_VERSION);
  app.require_subcommand(1);
  app.footer("Exit status: 0 safe (every wall holds), 1 any other verdict, 2 the input or the call "
             "is wrong, 3 it could not finish. The result is advice, never a guarantee.");
  app.formatter(std::make_shared<HelpFormat>());
  CheckOptions check;
  const CLI::App* check_command = add_check_command(app, check);
  BedOptions bed;
  const CLI::App* bed_command = add_bed_command(app, bed);
  StartOptions start;
  const CLI::App* start_command = add_start_command(app, start);
  add_docs_command(app);
  if (const std::string fault = unknown_command(app, argc > 1 ? argv[1] : ""); !fault.empty()) {
    fmt::print(stderr, "{}", fault);
    return kWrongInput;
  }
  try {
    app.parse(argc, argv);
  } catch (const CLI::CallForHelp&) {
    print_out(app.help());
    return kHolds;
  } catch (const CLI::CallForAllHelp&) {
    print_out(app.help("", CLI::AppFormatMode::All));
    return kHolds;
  } catch (const CLI::CallForVersion& version) {
    print_out(fmt::format("{}\n", version.what()));
    return kHolds;
  } catch (const CLI::Success&) {
    return kHolds;
  } catch (const CLI::ParseError& error) {
    return refuse(app, error);
  }
  const int asked = std::max(check.threads, bed.threads);
  const int threads = asked > 0 ? asked : usable_processors();
  const tbb::global_control limit(tbb::global_control::max_allowed_parallelism,
                                  static_cast<std::size_t>(threads));
  if (check_command->parsed())
    return run_check(check);
  if (bed_command->parsed())
    return run_bed(bed);
  if (start_command->parsed())
    return run_start(start);
  return kWrongInput;
}

} // namespace
} // namespace leastwall

int main(int argc, char** argv) {
  leastwall::set_memory_habits();
  leastwall::prepare_last_resort();
  try {
    return leastwall::run(argc, argv);
  } catch (...) {
    leastwall::outcome_stands();
    leastwall::clear_progress();
    return leastwall::report_current_exception();
  }
}
