// What the tests know of the way they were built.
#pragma once

namespace leastwall::test {

/// Sanitizers make everything some ten times slower: loops over random cases are cut short then.
#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__) || defined(LEASTWALL_SANITIZED)
inline constexpr bool kSanitized = true;
#else
inline constexpr bool kSanitized = false;
#endif

/// `full` in a plain build, `short_` under sanitizers.
template <class T> constexpr T by_build(T full, T short_) {
  return kSanitized ? short_ : full;
}

} // namespace leastwall::test
