// What a 3MF file says about itself that the import does not hand on. Source: 3MF Consortium, "3D
// Manufacturing Format Core Specification", 1.3: model attribute `unit`, 3D matrices of 12 numbers.
#pragma once

#include "geometry/mapped_file.h"

#include <string>

namespace leastwall {

struct ThreemfFacts {
  double mm_per_unit = 1; ///< millimetre is what the specification says when no unit is given
  std::string unit = "millimetre";
};

/// Throws InputError when the archive or its model part is damaged, when a transform has not twelve
/// numbers, or when objects lie in other parts of the archive (production extension), which would
/// be left out.
ThreemfFacts read_threemf_facts(const MappedFile& file);

} // namespace leastwall
