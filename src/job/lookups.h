// What a job looks up elsewhere: readings in files, wood species, ISO 286 fits.
#pragma once

#include "base/notice.h"
#include "setup/bed_map.h"

#include <filesystem>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace leastwall {

struct LookedUpMap {
  std::shared_ptr<const BedMap> map;   ///< mm
  std::vector<std::string> understood; ///< how the file was read
  std::vector<Notice> notices;
};

/// A file of bed heights, or of thicknesses. Throws InputError naming file and line.
LookedUpMap look_up_readings(const std::filesystem::path& file, bool thickness);

/// Throws InputError (without a file name) naming the known species when this one is none.
void look_up_species(std::string_view name);

/// Largest diametral clearance, mm, of an ISO 286 fit such as "H7/h6" at a nominal diameter in mm;
/// negative for an interference. Throws InputError (without a file name) when it is not known.
double look_up_clearance_mm(std::string_view fit, double diameter_mm);

} // namespace leastwall
