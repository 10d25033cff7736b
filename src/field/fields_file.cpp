#include "field/fields_file.h"

namespace leastwall {

std::string fields_file(std::span<const NamedField> fields, const RunContext& run) {
  static auto* const write = reinterpret_cast<WriteFields*>(field_function(kWriteFields));
  std::string out;
  write(fields, run, out);
  return out;
}

} // namespace leastwall
