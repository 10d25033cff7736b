// Standard output and standard error: whole, or said so; never in the way of the exit status.
#pragma once

#include <string_view>

namespace leastwall {

/// To be called first: where stdin, stdout or stderr is closed, its number is taken by a file that
/// refuses what is written, so that no output of the run can come to stand there.
void hold_standard_streams() noexcept;

/// Prints results. Throws RunError when stdout takes them not (closed, disk full) and Cancelled
/// when the user asks to stop while it takes nothing; a reader of a pipe that leaves early is no
/// error.
void print_out(std::string_view text);

/// Prints on stderr as much as it takes within a second; what it does not take is lost. Plain
/// system calls: safe in a signal handler.
void print_err(std::string_view text) noexcept;

} // namespace leastwall
