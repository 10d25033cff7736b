// The text of a job file with some of its keys changed.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace leastwall {

struct KeyEdit {
  std::string path;                 ///< with its tables, "side_b.touch_point"
  std::optional<std::string> value; ///< as it stands in the file, "[0, 50]"; absent: the key goes
};

/// Each edit made in turn, in place: where the key stands, where it stands behind a "#", else first
/// in its table, which is begun where there is none. A key that goes stays behind a "#", and with
/// the last one the header of its table. All other lines, comments and line ends stay as they are.
/// `file` is the name for messages. Throws InputError where a line cannot be changed without
/// changing others (a table on one line, keys of a part or pocket), or where the text is not TOML:
/// nothing is changed unless the result, read anew, differs in these keys alone.
std::string edited_job(std::string_view text, std::string_view file,
                       std::span<const KeyEdit> edits);

} // namespace leastwall
