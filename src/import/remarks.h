// What the importer says in its log while it reads.
#pragma once

#include <cstdint>
#include <string>

namespace leastwall::import {

struct Remarks {
  std::uint64_t count =
      0; ///< warnings and errors, those about materials, lights and cameras left out
  std::string first;
};

/// Counts what is logged from now on into `remarks`, which must live as long as the process.
void listen(Remarks& remarks);

} // namespace leastwall::import
