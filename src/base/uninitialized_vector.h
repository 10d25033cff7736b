// A vector whose new elements are left as the memory was found.
//
// A plain vector fills what it grows by, on one thread; memory that is first touched there comes
// from the system on that one thread, too. Where every element is written anyway, and by many
// threads, both are waste.
#pragma once

#include <memory>
#include <utility>
#include <vector>

namespace leastwall {

template <class T> struct RawAllocator : std::allocator<T> {
  template <class U> struct rebind { using other = RawAllocator<U>; };
  template <class U, class... Args> void construct(U* at, Args&&... args) {
    if constexpr (sizeof...(Args) == 0)
      ::new (static_cast<void*>(at)) U; // no initialiser: plain data stays as it is
    else
      ::new (static_cast<void*>(at)) U(std::forward<Args>(args)...);
  }
};

/// Elements that resize() adds must be written before they are read. Only for types whose default
/// constructor does nothing; for others it is a plain vector.
template <class T> using UninitializedVector = std::vector<T, RawAllocator<T>>;

} // namespace leastwall
