// base/maths/extended.h where `long double` has other digits: each step is rounded as the x87
// rounds it.
#pragma once

#include <boost/multiprecision/cpp_bin_float.hpp>
#include <boost/multiprecision/eigen.hpp>

namespace leastwall::maths {

using Extended = boost::multiprecision::cpp_bin_float_double_extended;

} // namespace leastwall::maths
