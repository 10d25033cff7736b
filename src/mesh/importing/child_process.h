// A program run beside ours, read through a pipe.
#pragma once

#include <chrono>
#include <cstddef>
#include <filesystem>
#include <optional>
#include <string>
#include <sys/types.h>
#include <vector>

namespace leastwall {

/// Started with posix_spawn (never a bare fork: we have threads). Its standard handles are the null
/// device, `result_handle` is the pipe, all others are closed. Killed and reaped when this goes.
class ChildProcess {
 public:
  /// Throws RunError when the program cannot be started.
  ChildProcess(const std::filesystem::path& program, const std::vector<std::string>& arguments,
               int result_handle);
  ~ChildProcess();
  ChildProcess(const ChildProcess&) = delete;
  ChildProcess& operator=(const ChildProcess&) = delete;

  /// Waits up to `time` for bytes and appends them to `bytes`. False at the end of the pipe.
  bool read_some(std::string& bytes, std::chrono::milliseconds time);
  /// The wait status when it has ended (see waitpid), else nothing.
  std::optional<int> ended();

 private:
  pid_t id_ = -1;
  int pipe_ = -1;
  std::optional<int> status_;
};

} // namespace leastwall
