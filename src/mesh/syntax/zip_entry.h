// One file out of a zip archive. Source: PKWARE, APPNOTE.TXT 6.3 (central directory, stored and
// deflated entries; no encryption, no 64-bit records).
#pragma once

#include "base/file/mapped_file.h"

#include <functional>
#include <string_view>

namespace leastwall {

/// Finds the entry (letter case ignored, a leading '/' too) and gives its bytes to `take` piece by
/// piece, checked against the archive's checksum at the end. False when there is no such entry.
/// Throws InputError when the archive is damaged.
bool read_zip_entry(const MappedFile& file, std::string_view name,
                    const std::function<void(std::string_view)>& take);

} // namespace leastwall
