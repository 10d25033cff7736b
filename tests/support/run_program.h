// Runs a program as a user would and keeps what it says.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace leastwall::test {

struct RunOptions {
  std::vector<std::string> environment = {}; ///< NAME=value, added to the present one
  std::filesystem::path working_folder = {}; ///< empty: the present one
  std::string stdout_to = {};                ///< a path to write stdout to; "closed" closes it
  double signal_after_s = 0;                 ///< sends SIGTERM then; 0 does not
  double give_up_after_s = 120;              ///< kills it then; the status is then -SIGKILL
};

struct RunResult {
  int status = 0; ///< exit status; minus the signal when one ended it
  std::string out, err;
  double seconds = 0;              ///< whole run
  long peak_kib = 0;               ///< most resident memory at one time
  double seconds_after_signal = 0; ///< from SIGTERM to the end
};

/// Runs `words[0]` with the other words as arguments (no shell). stdin is empty.
RunResult run_program(const std::vector<std::string>& words, const RunOptions& options = {});

/// Runs the built leastwall with these arguments.
RunResult leastwall_program(std::vector<std::string> arguments, const RunOptions& options = {});

std::string file_text(const std::filesystem::path& file);

/// Names in a folder, sorted.
std::vector<std::string> names_in(const std::filesystem::path& folder);

} // namespace leastwall::test
