#include "mesh/importing/child_process.h"

#include "base/errors.h"

#include <cerrno>
#include <csignal>
#include <fcntl.h>
#include <poll.h>
#include <spawn.h>
#include <sys/wait.h>
#include <system_error>
#include <unistd.h>

extern char** environ;

namespace leastwall {
namespace {

struct SpawnSettings {
  posix_spawn_file_actions_t actions{};
  posix_spawnattr_t attributes{};

  SpawnSettings(int from, int to) {
    posix_spawn_file_actions_init(&actions);
    posix_spawnattr_init(&attributes);
    posix_spawn_file_actions_adddup2(&actions, from, to);
    posix_spawn_file_actions_addopen(&actions, 0, "/dev/null", O_RDONLY, 0);
    posix_spawn_file_actions_addopen(&actions, 1, "/dev/null", O_WRONLY, 0);
    posix_spawn_file_actions_addopen(&actions, 2, "/dev/null", O_WRONLY, 0);
    posix_spawn_file_actions_addclosefrom_np(&actions, to + 1);
    sigset_t none, all;
    sigemptyset(&none);
    sigfillset(&all);
    posix_spawnattr_setsigmask(&attributes, &none);
    posix_spawnattr_setsigdefault(&attributes, &all);
    // A group of its own: the user's Ctrl-C reaches us, and we end it.
    posix_spawnattr_setpgroup(&attributes, 0);
    posix_spawnattr_setflags(&attributes, POSIX_SPAWN_SETSIGMASK | POSIX_SPAWN_SETSIGDEF |
                                              POSIX_SPAWN_SETPGROUP);
  }
  ~SpawnSettings() {
    posix_spawn_file_actions_destroy(&actions);
    posix_spawnattr_destroy(&attributes);
  }
  SpawnSettings(const SpawnSettings&) = delete;
  SpawnSettings& operator=(const SpawnSettings&) = delete;
};

} // namespace

ChildProcess::ChildProcess(const std::filesystem::path& program,
                           const std::vector<std::string>& arguments, int result_handle) {
  int ends[2];
  if (::pipe2(ends, O_CLOEXEC) != 0)
    throw RunError("no pipe to the import process (" + std::generic_category().message(errno) +
                   "); close some programs");
  std::string name = program.string();
  std::vector<std::string> words = arguments;
  std::vector<char*> argv{name.data()};
  for (std::string& word : words)
    argv.push_back(word.data());
  argv.push_back(nullptr);
  int error = 0;
  {
    SpawnSettings settings(ends[1], result_handle);
    error = ::posix_spawn(&id_, name.c_str(), &settings.actions, &settings.attributes, argv.data(),
                          environ);
  }
  ::close(ends[1]);
  pipe_ = ends[0];
  if (error != 0) {
    ::close(pipe_);
    throw RunError(name + ": the import program cannot be started (" +
                   std::generic_category().message(error) + "); install leastwall again");
  }
}

ChildProcess::~ChildProcess() {
  ::close(pipe_);
  if (!status_) {
    ::kill(id_, SIGKILL);
    while (::waitpid(id_, nullptr, 0) < 0 && errno == EINTR) {
    }
  }
}

bool ChildProcess::read_some(std::string& bytes, std::chrono::milliseconds time) {
  pollfd wait{pipe_, POLLIN, 0};
  if (::poll(&wait, 1, static_cast<int>(time.count())) <= 0)
    return true;
  constexpr std::size_t kChunk = 1 << 20;
  const std::size_t had = bytes.size();
  bytes.resize(had + kChunk);
  const ssize_t got = ::read(pipe_, bytes.data() + had, kChunk);
  bytes.resize(had + static_cast<std::size_t>(got > 0 ? got : 0));
  return got > 0 || (got < 0 && (errno == EINTR || errno == EAGAIN));
}

std::optional<int> ChildProcess::ended() {
  int status = 0;
  if (!status_ && ::waitpid(id_, &status, WNOHANG) == id_)
    status_ = status;
  return status_;
}

} // namespace leastwall
