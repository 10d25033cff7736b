// Where an output really goes.
#pragma once

#include <filesystem>

namespace leastwall {

/// The absolute path of the file that writing to `file` writes. Links are followed, also one whose
/// file is not there yet; what has no path of its own (a pipe behind /dev/stdout) keeps the name it
/// was given. A way through a folder that is not there and back again counts as not gone. Throws
/// InputError where links lead in a circle.
std::filesystem::path written_place(const std::filesystem::path& file);

} // namespace leastwall
