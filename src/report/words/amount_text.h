// Volumes and weights of resin in words: millilitres and grams, for a job in inches US fluid ounces
// and ounces before them.
#pragma once

#include <optional>
#include <string>

namespace leastwall {

/// "92.1", in ml: one decimal, two under 10 ml.
std::string ml_number(double mm3);
/// "210.4", in g: one decimal, two under 10 g.
std::string gram_number(double g);
/// The same; "" where it is not known.
std::string ml_number(const std::optional<double>& mm3);
std::string gram_number(const std::optional<double>& g);

/// "92.1 ml"; "3.11 fl oz (92.1 ml)".
std::string volume_text(double mm3, bool inch);
/// "210.4 g"; "7.42 oz (210.4 g)".
std::string weight_text(double g, bool inch);

} // namespace leastwall
