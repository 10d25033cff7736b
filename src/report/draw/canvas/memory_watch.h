// Notices that memory ran out inside a drawing library that says nothing of it: a glyph or a font
// it could not make is then simply missing. A failed allocation leaves ENOMEM in errno (ISO C
// leaves it open, POSIX malloc() demands it), until some later call puts another error there; so
// look often.
#pragma once

#include <cerrno>

namespace leastwall {

class MemoryWatch {
 public:
  MemoryWatch() { errno = 0; }
  void look() { short_ = short_ || errno == ENOMEM; }
  /// True when memory ran out since the watch began, as far as a look has shown it.
  bool ran_out() {
    look();
    return short_;
  }

 private:
  bool short_ = false;
};

} // namespace leastwall
