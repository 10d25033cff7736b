#include "app/commands/run_options.h"

namespace leastwall {

void add_threads(CLI::App* command, int& threads) {
  command->add_option("--threads", threads, "threads to use (default: all)")
      ->type_name("N")
      ->check(CLI::Range(1, 1024));
}

void add_inches(CLI::App* command, bool& inches) {
  command->add_flag("--inches", inches,
                    "inches first, millimetres beside them; a job in inches does so by itself");
}

void add_quiet(CLI::App* command, bool& quiet) {
  command->add_flag("--quiet", quiet, "print nothing but errors; the exit status tells");
}

} // namespace leastwall
