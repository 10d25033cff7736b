// How an error is distributed: everything that follows from the shape alone, in one place.
#pragma once

#include <cstdint>

namespace leastwall {

/// Coverage factor that turns a standard uncertainty into the limit the worst case uses.
inline constexpr double kNormalLimit = 2.0;

/// No standard normal draw is larger: the smallest u1 is 2^-54, and sqrt(2 * 54 ln 2) = 8.65.
inline constexpr double kLargestNormalDraw = 8.8;

/// Standard normal from two uniform draws in (0, 1) (Box and Muller 1958).
double normal_draw(double u1, double u2);

/// A shape; each function takes the size that goes with it, in any unit, >= 0 except for a shift.
class Distribution {
 public:
  enum Shape : std::uint8_t {
    shift,        ///< known: exactly the size
    rectangle,    ///< within +-size, any value as likely
    normal,       ///< standard uncertainty of the size
    half_uniform, ///< 0 to size, any value as likely
    disc          ///< two scalars, anywhere in a disc of this radius
  };

  constexpr Distribution() = default;
  constexpr Distribution(Shape shape) : shape_(shape) {} // NOLINT(google-explicit-constructor)
  constexpr Shape shape() const { return shape_; }
  constexpr bool operator==(const Distribution&) const = default;
  constexpr bool operator==(Shape shape) const { return shape_ == shape; }

  /// What is expected.
  double middle(double size) const;
  /// How far from the middle the worst case goes, >= 0; for a disc in any direction.
  double half_width(double size) const;
  /// Standard uncertainty (GUM 4.3.7 for limits); of each scalar of a disc.
  double u(double size) const;
  /// For the size 1, from two uniform draws in (0, 1); `second` is a disc's other scalar.
  double unit_draw(double u1, double u2, bool second = false) const;
  /// Whether a unit draw takes the second of the two.
  bool takes_two() const { return shape_ == normal || shape_ == disc; }
  /// No unit draw is farther from 0.
  double largest_draw() const;
  /// How many scalars it has, all of which vary; none for a shift.
  int scalars() const { return shape_ == shift ? 0 : shape_ == disc ? 2 : 1; }
  /// Stable, for files: "shift", "rectangle", "normal", "half-uniform", "disc".
  const char* key() const;

 private:
  Shape shape_ = rectangle;
};

} // namespace leastwall
