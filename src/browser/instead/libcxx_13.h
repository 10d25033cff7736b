// What the standard asks for and libc++ 13 (Debian 12's emscripten) lacks: std::bit_cast, numbers
// with decimals from text, and those algorithms of std::ranges that the core uses. Included before
// every file of the browser's build and of no other; a later libc++ has them, and then this file
// says so.
#pragma once

#include <algorithm>
#include <charconv>
#include <cstring>
#include <fast_float/fast_float.h>
#include <functional>
#include <iterator>
#include <limits>
#include <system_error>
#include <type_traits>
#include <utility>

#if !defined(_LIBCPP_VERSION) || _LIBCPP_VERSION >= 14000
#error "this libc++ is not the one that libcxx_13.h was written for: see what it still lacks"
#endif

namespace std {

template <class To, class From> To bit_cast(const From& from) noexcept {
  static_assert(sizeof(To) == sizeof(From) && is_trivially_copyable_v<To> &&
                is_trivially_copyable_v<From>);
  To to;
  memcpy(&to, &from, sizeof to);
  return to;
}

/// What libstdc++ does: the nearest double; out of range, and `value` left alone, where that is
/// infinite or the digits are not all 0 and it is 0.
inline from_chars_result from_chars(const char* first, const char* last, double& value) {
  double read = 0;
  const fast_float::from_chars_result got = fast_float::from_chars(first, last, read);
  if (got.ec != errc())
    return {got.ptr, got.ec};
  const char* begin = first != got.ptr && *first == '-' ? first + 1 : first;
  const bool number = begin != got.ptr && (*begin == '.' || (*begin >= '0' && *begin <= '9'));
  const auto some_digit = [&] {
    for (const char* at = begin; at != got.ptr && *at != 'e' && *at != 'E'; ++at)
      if (*at >= '1' && *at <= '9')
        return true;
    return false;
  };
  const bool infinite =
      read == numeric_limits<double>::infinity() || read == -numeric_limits<double>::infinity();
  if (number && (infinite || (read == 0 && some_digit())))
    return {got.ptr, errc::result_out_of_range};
  value = read;
  return {got.ptr, errc()};
}

namespace ranges {

template <class R, class F> bool any_of(R&& range, F test) {
  return std::any_of(std::begin(range), std::end(range),
                     [&](auto&& x) { return std::invoke(test, x); });
}
template <class R, class F> bool all_of(R&& range, F test) {
  return std::all_of(std::begin(range), std::end(range),
                     [&](auto&& x) { return std::invoke(test, x); });
}
template <class R, class F> bool none_of(R&& range, F test) {
  return !ranges::any_of(range, test);
}
template <class R, class F> auto count_if(R&& range, F test) {
  return std::count_if(std::begin(range), std::end(range),
                       [&](auto&& x) { return std::invoke(test, x); });
}
template <class R, class To, class F> To copy_if(R&& range, To to, F test) {
  return std::copy_if(std::begin(range), std::end(range), to,
                      [&](auto&& x) { return std::invoke(test, x); });
}
template <class R, class F, class P = identity> auto find_if(R&& range, F test, P of = {}) {
  return std::find_if(std::begin(range), std::end(range),
                      [&](auto&& x) { return std::invoke(test, std::invoke(of, x)); });
}
template <class R, class T, class P = identity> auto find(R&& range, const T& value, P of = {}) {
  return std::find_if(std::begin(range), std::end(range),
                      [&](auto&& x) { return std::invoke(of, x) == value; });
}

template <class Less, class P> auto less_by(Less& less, P& of) {
  return [&less, &of](auto&& a, auto&& b) {
    return std::invoke(less, std::invoke(of, a), std::invoke(of, b));
  };
}
template <class R, class L = less, class P = identity>
auto min_element(R&& range, L l = {}, P of = {}) {
  return std::min_element(std::begin(range), std::end(range), less_by(l, of));
}
template <class R, class L = less, class P = identity>
auto max_element(R&& range, L l = {}, P of = {}) {
  return std::max_element(std::begin(range), std::end(range), less_by(l, of));
}
template <class R, class L = less, class P = identity> auto max(R&& range, L l = {}, P of = {}) {
  return *ranges::max_element(range, l, of);
}
template <class R, class L = less, class P = identity> auto min(R&& range, L l = {}, P of = {}) {
  return *ranges::min_element(range, l, of);
}
template <class R, class L = less, class P = identity> void sort(R&& range, L l = {}, P of = {}) {
  std::sort(std::begin(range), std::end(range), less_by(l, of));
}
template <class R, class L = less, class P = identity>
void stable_sort(R&& range, L l = {}, P of = {}) {
  std::stable_sort(std::begin(range), std::end(range), less_by(l, of));
}
template <class R, class T, class L = less, class P = identity>
auto lower_bound(R&& range, const T& value, L l = {}, P of = {}) {
  return std::lower_bound(std::begin(range), std::end(range), value, [&](auto&& x, const T& v) {
    return std::invoke(l, std::invoke(of, x), v);
  });
}
template <class R, class T, class L = less, class P = identity>
auto upper_bound(R&& range, const T& value, L l = {}, P of = {}) {
  return std::upper_bound(std::begin(range), std::end(range), value, [&](const T& v, auto&& x) {
    return std::invoke(l, v, std::invoke(of, x));
  });
}

} // namespace ranges
} // namespace std
