#include "mutate.h"

#include <algorithm>
#include <array>
#include <string_view>

namespace leastwall::fuzz {
namespace {

constexpr std::size_t kLargest = 1 << 20;

class Mutator {
 public:
  Mutator(std::string bytes, std::mt19937_64& random) : bytes_(std::move(bytes)), random_(random) {}

  std::string run() {
    for (std::size_t left = 1 + below(1 + below(6)); left > 0; --left)
      change();
    if (bytes_.size() > kLargest)
      bytes_.resize(kLargest);
    return std::move(bytes_);
  }

 private:
  std::size_t below(std::size_t n) { return n == 0 ? 0 : static_cast<std::size_t>(random_() % n); }
  std::size_t place() { return below(bytes_.size() + 1); }
  std::string_view block(std::size_t longest) {
    const std::size_t at = place();
    return std::string_view(bytes_).substr(at, 1 + below(longest));
  }
  template <std::size_t N> std::string_view one_of(const std::array<std::string_view, N>& all) {
    return all[below(N)];
  }

  void change() {
    if (bytes_.empty()) {
      bytes_ = "x";
      return;
    }
    switch (below(12)) {
    case 0:
      for (std::size_t n = 1 + below(8); n > 0; --n)
        flip_bit();
      break;
    case 1:
      bytes_[below(bytes_.size())] = static_cast<char>(random_());
      break;
    case 2:
      bytes_.resize(place());
      break;
    case 3:
      bytes_.erase(place(), 1 + below(64));
      break;
    case 4:
      bytes_.insert(place(), std::string(block(200)));
      break;
    case 5:
      repeat();
      break;
    case 6: {
      const std::string moved(block(100));
      bytes_.replace(place(), moved.size(), moved);
      break;
    }
    case 7:
      set_word();
      break;
    case 8:
      insert_word();
      break;
    default:
      replace_number();
    }
  }

  void flip_bit() {
    char& c = bytes_[below(bytes_.size())];
    c = static_cast<char>(c ^ (1 << below(8)));
  }

  /// A block many times over: nesting, long lists, long lines.
  void repeat() {
    const std::string piece(block(60));
    const std::size_t times = below(4) == 0 ? 1 + below(20'000) : 1 + below(50);
    std::string many;
    for (std::size_t i = 0; i < times && many.size() < kLargest; ++i)
      many += piece;
    bytes_.insert(place(), many);
  }

  /// Four bytes of a binary number.
  void set_word() {
    static constexpr std::array<std::uint32_t, 9> kWords = {0u,          1u,          0xffffffffu,
                                                            0x7fffffffu, 0x80000000u, 0xfffffffeu,
                                                            0x7fc00000u, 0x7f800000u, 0x0000ffffu};
    const std::uint32_t word = kWords[below(kWords.size())];
    const std::size_t at = below(bytes_.size());
    for (std::size_t i = 0; i < 4 && at + i < bytes_.size(); ++i)
      bytes_[at + i] = static_cast<char>(word >> (8 * i));
  }

  void insert_word() {
    static constexpr std::array<std::string_view, 24> kWords = {
        "\n",
        "\r",
        "\0",
        "\xff\xfe",
        "\xef\xbb\xbf",
        "\"",
        "<",
        "</",
        "/>",
        "<!--",
        "<![CDATA[",
        "&#0;",
        "<!DOCTYPE a [<!ENTITY b \"bbbb\">]>&b;",
        "{",
        "[",
        "}",
        "]",
        "null",
        "\nf 1 2 3 4 5 6 7 8 9\n",
        "\nf 0 0 0\n",
        "\nusemtl \n",
        "\nmtllib /dev/zero\n",
        "../../../../../../dev/zero",
        "\\\n"};
    bytes_.insert(place(), one_of(kWords));
  }

  void replace_number() {
    static constexpr std::array<std::string_view, 20> kNumbers = {"nan",
                                                                  "inf",
                                                                  "-1",
                                                                  "0",
                                                                  "1e999",
                                                                  "1e-999",
                                                                  "2147483647",
                                                                  "2147483648",
                                                                  "4294967295",
                                                                  "4294967296",
                                                                  "18446744073709551615",
                                                                  "99999999999999999999999",
                                                                  "0x10",
                                                                  "1,5",
                                                                  "-0",
                                                                  "1e38",
                                                                  "3000000000",
                                                                  "65536",
                                                                  "",
                                                                  "1.7976931348623157e308"};
    const std::size_t from = place();
    const std::size_t at = bytes_.find_first_of("0123456789", from);
    if (at == bytes_.npos)
      return flip_bit();
    const std::size_t end =
        std::min(bytes_.find_first_not_of("0123456789.eE+-", at), bytes_.size());
    bytes_.replace(at, end - at, one_of(kNumbers));
  }

  std::string bytes_;
  std::mt19937_64& random_;
};

} // namespace

std::string mutated(std::string bytes, std::mt19937_64& random) {
  return Mutator(std::move(bytes), random).run();
}

} // namespace leastwall::fuzz
