// The faces of an OFF file: its importer leaves out, with no word to its caller, those that name
// corners which are not there, and crashes on some. Source: Geomview manual, "OFF Files".
#pragma once

#include "geometry/mapped_file.h"

namespace leastwall {

/// Throws InputError when a coordinate or a corner of a face is missing, when a face has no corners
/// or names one that is no vertex of the file, and for OFF in binary or in other than three
/// dimensions.
void check_off(const MappedFile& file);

} // namespace leastwall
