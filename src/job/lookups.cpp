#include "job/lookups.h"

#include "base/errors.h"

namespace leastwall {

LookedUpMap look_up_readings(const std::filesystem::path& file, bool thickness) {
  static_cast<void>(thickness);
  throw InputError(file.string() + ": this version reads no files of readings; write them into the "
                                   "job as rows [x, y, reading]");
}

void look_up_species(std::string_view name) {
  throw InputError("no species table in this version (" + std::string(name) +
                   "); state board.swelling instead");
}

double look_up_clearance_mm(std::string_view fit, double diameter_mm) {
  static_cast<void>(diameter_mm);
  throw InputError("no table of fits in this version (" + std::string(fit) +
                   "); state the clearance instead");
}

} // namespace leastwall
