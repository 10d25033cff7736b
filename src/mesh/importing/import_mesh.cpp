#include "mesh/importing/import_mesh.h"

#include "base/errors.h"
#include "base/file/program_folder.h"
#include "base/file/refuse_file.h"
#include "mesh/importing/child_process.h"
#include "mesh/importing/import_protocol.h"

#include <algorithm>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <cstring>
#include <fmt/format.h>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>

namespace leastwall {
namespace {

using Clock = std::chrono::steady_clock;

[[noreturn]] void refuse_slow(const std::filesystem::path& file, double seconds) {
  refuse_file(file, fmt::format("the import took longer than {:.0f} s and was stopped", seconds),
              "export the mesh as binary STL or PLY");
}

/// What the end of the process tells, when it sent no complete answer.
[[noreturn]] void refuse_end(const std::filesystem::path& file, int status,
                             const LoadOptions& options) {
  if (WIFSIGNALED(status)) {
    if (WTERMSIG(status) == SIGXCPU || WTERMSIG(status) == SIGKILL)
      refuse_slow(file, options.import_timeout_s);
    refuse_file(file, fmt::format("the import crashed on it (signal {})", WTERMSIG(status)),
                "the file is damaged or malformed: export it again, best as binary STL or PLY");
  }
  if (WEXITSTATUS(status) == 127)
    throw RunError(import_program().string() + ": cannot be run; install leastwall again");
  refuse_file(file, "the import gave no complete answer", "export the mesh as binary STL or PLY");
}

/// All the process writes, and its wait status.
std::string collect(const std::filesystem::path& file, ChildProcess& process,
                    const LoadOptions& options, const RunContext& run, int& status) {
  const auto deadline = Clock::now() + std::chrono::duration_cast<Clock::duration>(
                                           std::chrono::duration<double>(options.import_timeout_s));
  std::string bytes;
  run.progress("importing", 0);
  while (process.read_some(bytes, std::chrono::milliseconds(50))) {
    run.check();
    if (Clock::now() > deadline)
      refuse_slow(file, options.import_timeout_s);
    if (bytes.size() > options.import_memory_bytes)
      refuse_file(file, "the mesh is larger than the memory allowed for the import",
                  "decimate it, or export it as binary STL");
  }
  while (!process.ended()) {
    run.check();
    if (Clock::now() > deadline)
      refuse_slow(file, options.import_timeout_s);
    std::this_thread::sleep_for(std::chrono::milliseconds(2));
  }
  status = *process.ended();
  return bytes;
}

template <class T> void copy_array(const char*& at, std::vector<T>& to, std::uint64_t count) {
  to.resize(static_cast<std::size_t>(count));
  if (count > 0)
    std::memcpy(to.data(), at, static_cast<std::size_t>(count) * sizeof(T));
  at += count * sizeof(T);
}

} // namespace

std::filesystem::path import_program() {
  namespace fs = std::filesystem;
  const fs::path here = program_folder();
  for (const fs::path& place :
       {here / "leastwall-import", here.parent_path() / "libexec/leastwall/leastwall-import"})
    if (::access(place.c_str(), X_OK) == 0)
      return place;
  if (const char* named = std::getenv("LEASTWALL_IMPORT"); named != nullptr && *named != '\0')
    return named;
  throw RunError("leastwall-import: not found beside the program; install leastwall again, or use "
                 "STL or PLY, which need no import");
}

ImportedSoup import_mesh(const std::filesystem::path& file, const LoadOptions& options,
                         const RunContext& run) {
  ChildProcess process(import_program(),
                       {"dae", std::filesystem::absolute(file).string(),
                        std::to_string(options.import_memory_bytes),
                        std::to_string(static_cast<long>(options.import_timeout_s) + 1)},
                       kImportHandle);
  int status = 0;
  const std::string bytes = collect(file, process, options, run, status);
  ImportHeader header;
  if (bytes.size() < sizeof header || status != 0)
    refuse_end(file, status, options);
  std::memcpy(&header, bytes.data(), sizeof header);
  const std::uint64_t body = bytes.size() - sizeof header;
  if (header.magic != kImportMagic)
    refuse_end(file, status, options);
  if (header.message_bytes > 0) {
    if (header.message_bytes != body)
      refuse_end(file, status, options);
    refuse_file(file, bytes.substr(sizeof header),
                "export the mesh again, best as binary STL or PLY");
  }
  // Each count alone must fit before they are multiplied and added.
  if (header.vertices > body / sizeof(Vec3) || header.corners > body / 4 ||
      header.faces > body / 4 || header.remark_bytes > body ||
      header.vertices * sizeof(Vec3) + (header.corners + header.faces) * 4 + header.remark_bytes !=
          body)
    refuse_end(file, status, options);
  static_assert(sizeof(Vec3) == 24);
  ImportedSoup result;
  const char* at = bytes.data() + sizeof header;
  copy_array(at, result.soup.vertices, header.vertices);
  copy_array(at, result.soup.corners, header.corners);
  copy_array(at, result.soup.sizes, header.faces);
  std::uint64_t corners = 0;
  for (const std::uint32_t n : result.soup.sizes)
    corners += n;
  if (corners != header.corners)
    refuse_end(file, status, options);
  result.remarks = static_cast<std::size_t>(header.remarks);
  result.first_remark.assign(at, static_cast<std::size_t>(header.remark_bytes));
  result.placed = static_cast<std::size_t>(header.placed);
  result.not_placed = static_cast<std::size_t>(header.not_placed);
  return result;
}

} // namespace leastwall
