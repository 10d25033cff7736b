// The errors that vary over the piece, of all causes, numbered through, and their draws.
#pragma once

#include "causes/model/cause.h"

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace leastwall {

class LocalErrors {
 public:
  LocalErrors(std::span<const Cause> causes, std::uint64_t seed);

  std::size_t count() const { return errors_.size(); }

  /// Appends what acts at p: numbers over all causes, rising, and mm per unit.
  void shares_at(const WallSample& p, std::vector<ErrorShare>& out) const;

  std::size_t cause_of(std::uint32_t error) const { return errors_[error].cause; }
  /// No draw of the error with size 1 is larger than this.
  double unit_reach(std::uint32_t error) const;
  /// The draw with size 1, a function of seed, trial and error.
  double unit_draw(std::uint32_t error, std::size_t trial) const;

 private:
  struct Field {
    std::size_t cause;
    std::uint32_t first;
    std::shared_ptr<const ErrorField> field;
    Distribution distribution;
  };
  struct Error {
    std::size_t cause;
    std::uint64_t start; ///< of its stream
    Distribution distribution;
  };
  std::vector<Field> fields_;
  std::vector<Error> errors_;
};

} // namespace leastwall
