// Dowel fits: limits of size after ISO 286-2 and the clearance that a fit leaves.
//
// Holes H7 H8 H9 H11, pins h6 m6 h8, nominal diameters above 3 up to 18 mm. Values read in
// secondary tables that agree with each other (DIN 6325 pins among them), not in the standard.
#pragma once

#include <string_view>

namespace leastwall {

/// Deviations from the nominal diameter.
struct ToleranceLimits {
  double lower_mm = 0, upper_mm = 0;
};

/// Limits of one class, such as "H7" or "m6". The bands are "above .. up to and including": 6 mm
/// belongs to 3-6, a 1/4 in pin (6.35 mm) to 6-10. Throws InputError for a class or diameter that
/// is not in the table.
ToleranceLimits tolerance_limits(std::string_view tolerance_class, double nominal_mm);

/// Diametral clearance, hole minus pin; negative where the pin is larger (press fit).
struct FitClearance {
  double least_mm = 0, largest_mm = 0;
};

/// Clearance of a fit written hole first, such as "H7/h6". Throws InputError for anything else.
FitClearance fit_clearance(std::string_view fit, double nominal_mm);

} // namespace leastwall
