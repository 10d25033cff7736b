// Unpacking of deflated bytes. Source: RFC 1951.
#pragma once

#include "mesh/syntax/unpack_deflate.h"

namespace leastwall {

/// As unpack_deflate().
Unpacked inflate(std::string_view packed, const std::function<void(std::string_view)>& take);

} // namespace leastwall
