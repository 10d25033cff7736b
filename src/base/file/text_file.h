// Small text files from people: jobs and tables.
#pragma once

#include <cstddef>
#include <filesystem>
#include <string>
#include <string_view>

namespace leastwall {

/// What messages about such a file advise.
struct TextFileAdvice {
  std::string_view missing; ///< "name the job file"
  std::string_view folder;  ///< "name the job file in it"
  std::string_view other;   ///< for a pipe or device: "name a job file"
};

/// The bytes of a regular file, at most `max_bytes` of them. Throws InputError "FILE: why; what to
/// do" for what is missing, may not be read, or is no file (never waits for a pipe); RunError where
/// the system has no more to give or the disk fails.
std::string read_text_file(const std::filesystem::path& file, std::size_t max_bytes,
                           const TextFileAdvice& advice);

/// "a folder", "a pipe", "a device", "a socket"; empty for a regular file and what is not there.
std::string_view odd_kind(std::filesystem::file_type type);

/// Text in UTF-16, with a byte-order mark or without (every second of its first bytes is zero, as
/// in any Latin text).
bool looks_like_utf16(std::string_view text);

/// Throws the error of an open() that failed with `error`: RunError where the system has no more to
/// give (open files, memory, room), InputError otherwise. `what` begins the line, `todo` ends it.
[[noreturn]] void throw_open_error(std::string_view what, int error, std::string_view todo);

} // namespace leastwall
