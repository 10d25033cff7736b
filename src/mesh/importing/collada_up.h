// Which axis of a COLLADA file points up.
// Source: Khronos Group, "COLLADA 1.4.1 Specification", element up_axis: X_UP, Y_UP or Z_UP, in the
// asset of the document; Y_UP where it is absent.
#pragma once

#include <string_view>

namespace leastwall {

/// 'x', 'y' or 'z'. What an up_axis in the asset of a single element says counts for nothing.
char collada_up(std::string_view text);

} // namespace leastwall
