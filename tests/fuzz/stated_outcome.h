// What every input must come to: an answer, or one clear line. Used by all fuzz targets; a breach
// aborts, so that the input is kept.
#pragma once

#include "base/errors.h"
#include "base/notice.h"

#include <string_view>
#include <vector>

namespace leastwall::fuzz {

/// Prints `what` and aborts unless `holds`.
void require(bool holds, std::string_view what);

/// True for UTF-8 (RFC 3629) without control characters, so without line ends.
bool is_plain_line(std::string_view text);

/// Each code is a word, each text one plain line that is not empty.
void require_plain(const std::vector<Notice>& notices);

/// Runs `body`. InputError and RunError must be one plain line of bearable length that begins with
/// `name`; any other exception passes and so ends the program. True when there was no error.
template <class Body> bool has_answer(std::string_view name, const Body& body) {
  const auto stated = [&](std::string_view line) {
    require(is_plain_line(line), "the message is one plain line");
    require(line.size() > name.size() && line.size() < 6000, "the message has a bearable length");
    require(line.starts_with(name), "the message names the file");
  };
  try {
    body();
    return true;
  } catch (const InputError& error) {
    stated(error.what());
  } catch (const RunError& error) {
    stated(error.what());
  }
  return false;
}

} // namespace leastwall::fuzz
