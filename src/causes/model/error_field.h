// Errors that are not one number for the whole piece: they vary from place to place.
//
// A cause with a field has `count` independent errors e_0, e_1, ... of the same size, and at a
// place only a few of them act:  wall change = sum of c_i e_i  over its shares. Its worst case
// there is size * sum |c_i| (all at their limits at once), its standard uncertainty u(e) * sqrt(sum
// c_i^2).
#pragma once

#include <cstdint>
#include <memory>
#include <vector>

namespace leastwall {

struct Cause;
struct WallSample;

/// One error of a field at a place.
struct ErrorShare {
  std::uint32_t error = 0; ///< its number, under ErrorField::count()
  double c = 0;            ///< change of the wall per unit of it, positive thicker
};

class ErrorField {
 public:
  virtual ~ErrorField() = default;
  virtual std::uint32_t count() const = 0;
  /// Appends the errors that act at p, each once, by rising number. Safe from many threads.
  virtual void shares(const WallSample& p, std::vector<ErrorShare>& out) const = 0;
};

/// Makes the cause vary by `field`, and fills its sensitivities from the field: the first is c
/// where one error acts and sum |c_i| where several do, the second sqrt(sum c_i^2).
void set_field(Cause& cause, std::shared_ptr<const ErrorField> field);

/// Sorts shares by number, adds up those of one error and drops what cancels to nothing. From
/// `begin` on.
void join_shares(std::vector<ErrorShare>& shares, std::size_t begin);

} // namespace leastwall
