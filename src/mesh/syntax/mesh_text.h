// What every reader of a text format asks of the text as a whole.
#pragma once

#include "base/file/mapped_file.h"

#include <cstdint>
#include <string_view>

namespace leastwall {

/// The text of the file without a UTF-8 byte-order mark. Throws InputError for text in UTF-16 or
/// UTF-32; `format` names what it is ("OBJ").
std::string_view mesh_text(const MappedFile& file, std::string_view format);

/// Whether the whole number `last` on which the text ends may have lost digits when the text was
/// cut off: neither blank nor line end follows it, and with one digit more it would still be `most`
/// or less. A number that is whole for certain gives false.
bool may_lack_digits(std::string_view text, std::uint64_t last, std::uint64_t most);

} // namespace leastwall
