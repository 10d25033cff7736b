// Bookkeeping for coordinates that are not numbers.
#pragma once

#include <cstdint>
#include <filesystem>
#include <string_view>

namespace leastwall {

/// Counts vertices whose coordinates are NaN or infinite and remembers the first.
struct NonfiniteVertices {
  std::uint64_t count = 0, first = 0;

  /// `where`: number of the facet, line or vertex, counted from 1.
  void add(std::uint64_t where) {
    if (count++ == 0)
      first = where;
  }
  /// Throws InputError when any were added; `place` says what `first` counts ("facet", "line").
  void refuse_any(const std::filesystem::path& file, std::string_view place) const;
};

} // namespace leastwall
