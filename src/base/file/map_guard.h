// A mapped file that another program shortens, or whose disk fails, is answered by the system with
// SIGBUS. Ranges named here are filled with zeros from there on instead, and that is remembered.
#pragma once

#include <cstddef>

namespace leastwall {

class MapGuard {
 public:
  /// Guards [begin, begin + size), a private mapping. Installs the handler for SIGBUS at the first
  /// call; other SIGBUS go to the handler that was there before.
  MapGuard(const void* begin, std::size_t size);
  ~MapGuard();
  MapGuard(const MapGuard&) = delete;
  MapGuard& operator=(const MapGuard&) = delete;

  /// True when part of the range was not there any more.
  bool filled() const;

 private:
  int slot_ = -1; ///< -1: all are taken; the range is then not guarded
};

} // namespace leastwall
