#include "support/run_program.h"

#include "support/temp_dir.h"

#include <algorithm>
#include <chrono>
#include <csignal>
#include <fcntl.h>
#include <iterator>
#include <sys/resource.h>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>

extern char** environ;

namespace leastwall::test {
namespace {

using Clock = std::chrono::steady_clock;

double since(Clock::time_point start) {
  return std::chrono::duration<double>(Clock::now() - start).count();
}

/// Between fork and exec only plain system calls are allowed: all text is made before.
struct Call {
  std::vector<char*> words, environment;
  std::string out, err, folder;
};

[[noreturn]] void become(const Call& call) {
  const int in = ::open("/dev/null", O_RDONLY);
  const int err = ::open(call.err.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0600);
  ::dup2(in, 0);
  ::dup2(err, 2);
  if (call.out == "closed") {
    ::close(1);
  } else {
    const int out = ::open(call.out.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0600);
    ::dup2(out, 1);
    ::close(out);
  }
  ::close(in);
  ::close(err);
  if (!call.folder.empty() && ::chdir(call.folder.c_str()) != 0)
    ::_exit(126);
  ::execvpe(call.words[0], call.words.data(), call.environment.data());
  ::_exit(127);
}

} // namespace

RunResult run_program(const std::vector<std::string>& words, const RunOptions& options) {
  const TempDir folder;
  Call call;
  call.err = (folder.path() / "err").string();
  call.out = options.stdout_to.empty() ? (folder.path() / "out").string() : options.stdout_to;
  call.folder = options.working_folder.string();
  for (const std::string& word : words)
    call.words.push_back(const_cast<char*>(word.c_str()));
  call.words.push_back(nullptr);
  for (const std::string& entry : options.environment)
    call.environment.push_back(const_cast<char*>(entry.c_str()));
  for (char** entry = environ; *entry != nullptr; ++entry) {
    const std::string text = *entry;
    const std::string name = text.substr(0, text.find('=') + 1);
    if (std::none_of(options.environment.begin(), options.environment.end(),
                     [&](const std::string& e) { return e.rfind(name, 0) == 0; }))
      call.environment.push_back(*entry);
  }
  call.environment.push_back(nullptr);
  const Clock::time_point start = Clock::now();
  const pid_t child = ::fork();
  if (child < 0)
    throw std::runtime_error("fork");
  if (child == 0)
    become(call);
  RunResult result;
  int status = 0;
  rusage used = {};
  bool signalled = false;
  Clock::time_point signal_time;
  while (::wait4(child, &status, WNOHANG, &used) == 0) {
    if (options.signal_after_s > 0 && !signalled && since(start) > options.signal_after_s) {
      ::kill(child, SIGTERM);
      signal_time = Clock::now();
      signalled = true;
    }
    if (since(start) > options.give_up_after_s)
      ::kill(child, SIGKILL);
    std::this_thread::sleep_for(std::chrono::milliseconds(2));
  }
  result.seconds = since(start);
  result.peak_kib = used.ru_maxrss;
  if (signalled)
    result.seconds_after_signal = since(signal_time);
  result.status = WIFEXITED(status) ? WEXITSTATUS(status) : -WTERMSIG(status);
  if (options.stdout_to.empty())
    result.out = file_text(call.out);
  result.err = file_text(call.err);
  return result;
}

RunResult leastwall_program(std::vector<std::string> arguments, const RunOptions& options) {
  arguments.insert(arguments.begin(), LEASTWALL_BUILD_DIR "/leastwall");
  return run_program(arguments, options);
}

std::string file_text(const std::filesystem::path& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

std::vector<std::string> names_in(const std::filesystem::path& folder) {
  std::vector<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(folder))
    names.push_back(entry.path().filename().string());
  std::sort(names.begin(), names.end());
  return names;
}

} // namespace leastwall::test
