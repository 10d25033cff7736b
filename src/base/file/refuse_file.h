// The one way a reader says no: `FILE: what is wrong; what to do`, on one line.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>

namespace leastwall {

/// plain_line (base/text/plain_line.h): for names and words taken from files, so that a message
/// stays one line.
std::string one_line(std::string_view text, std::size_t most = 400);

/// Throws InputError("FILE: what; todo").
[[noreturn]] void refuse_file(const std::filesystem::path& file, std::string_view what,
                              std::string_view todo);

} // namespace leastwall
