// The lists of vertex numbers in a COLLADA file: its importer never ends when something else stands
// in them, and takes 0 for what is below 0. Source: Khronos Group, "COLLADA 1.4.1 Specification",
// elements p and vcount (lists of unsigned integers).
#pragma once

#include "geometry/mapped_file.h"

namespace leastwall {

/// Throws InputError when an element p or vcount holds anything but digits and blanks.
void check_collada(const MappedFile& file);

} // namespace leastwall
