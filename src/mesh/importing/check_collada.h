// The lists of a COLLADA file: its importer never ends when something else than vertex numbers
// stands among them, takes 0 for what is below 0, and reads past arrays that are shorter than they
// say. Source: Khronos Group, "COLLADA 1.4.1 Specification", elements p, vcount, float_array,
// accessor.
#pragma once

#include "base/file/mapped_file.h"

namespace leastwall {

/// Throws InputError when an element p or vcount holds anything but digits and blanks, when a
/// float_array holds what is no number or another count of them than it announces, or an accessor
/// reads beyond one.
void check_collada(const MappedFile& file);

} // namespace leastwall
