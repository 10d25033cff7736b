// The leastwall program: reads the command line, runs one command, answers with an exit status.
#include "app/call_faults.h"
#include "app/commands/bed_command.h"
#include "app/commands/check_command.h"
#include "app/commands/command_docs.h"
#include "app/commands/hollow_command.h"
#include "app/commands/mend_command.h"
#include "app/commands/page_command.h"
#include "app/commands/pour_command.h"
#include "app/commands/start_command.h"
#include "app/help_format.h"
#include "app/os/crash_handler.h"
#include "app/os/malloc_tuning.h"
#include "app/os/open_files.h"
#include "app/os/standard_streams.h"
#include "app/os/terminal.h"
#include "app/os/threads.h"

#include <algorithm>
#include <fmt/format.h>
#include <functional>
#include <tbb/global_control.h>

namespace leastwall {
namespace {

struct Command {
  const CLI::App* words;
  std::function<ExitStatus()> run;
};

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
  BedOptions bed;
  HollowCommand hollow;
  MendCommand mend;
  PourCommand pour;
  StartOptions start;
  PageOptions page;
  const Command commands[] = {
      {add_check_command(app, check), [&] { return run_check(check); }},
      {add_bed_command(app, bed), [&] { return run_bed(bed); }},
      {add_hollow_command(app, hollow), [&] { return run_hollow(hollow); }},
      {add_mend_command(app, mend), [&] { return run_mend(mend); }},
      {add_pour_command(app, pour), [&] { return run_pour(pour); }},
      {add_start_command(app, start), [&] { return run_start(start); }},
      {add_page_command(app, page), [&] { return run_page(page); }},
  };
  add_docs_command(app);
  if (argc <= 1) {
    print_out(app.help());
    return kWrongInput; // a script whose words got lost must not take it for a wall that holds
  }
  if (const std::string fault = unknown_command(app, argv[1]); !fault.empty()) {
    print_err(fault);
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
    print_err(call_fault(app, error));
    return kWrongInput;
  }
  require_open_files();
  const int asked =
      std::max({check.threads, bed.threads, hollow.threads, mend.threads, pour.threads});
  const int threads = asked > 0 ? asked : usable_processors();
  const tbb::global_control limit(tbb::global_control::max_allowed_parallelism,
                                  static_cast<std::size_t>(threads));
  for (const Command& command : commands)
    if (command.words->parsed())
      return command.run();
  return kWrongInput;
}

} // namespace
} // namespace leastwall

int main(int argc, char** argv) {
  leastwall::hold_standard_streams();
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
