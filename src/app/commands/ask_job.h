// `leastwall start --ask`: a job for one's own meshes, question by question.
#pragma once

#include <filesystem>
#include <string>

namespace leastwall {

struct AskedJob {
  std::string text;
  std::filesystem::path pocket, skin; ///< as given
};

/// Asks on standard output and reads standard input, a terminal or not, a line an answer; `pocket`
/// and `skin` are asked for where they are empty. The job will lie in `folder`. Throws InputError
/// when the answers end too early, when too many of them are wrong, or when together they make no
/// job.
AskedJob ask_job(const std::filesystem::path& folder, const std::string& pocket,
                 const std::string& skin);

} // namespace leastwall
