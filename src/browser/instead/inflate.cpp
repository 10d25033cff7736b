#include "browser/instead/inflate.h"

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <vector>

namespace leastwall {
namespace {

struct EndsEarly {};
struct Damaged {};

/// Bits from the lowest of each byte on.
class Bits {
 public:
  explicit Bits(std::string_view bytes) : bytes_(bytes) {}

  /// At most 16.
  std::uint32_t take(int n) {
    fill(n);
    if (held_ < n)
      throw EndsEarly();
    const std::uint32_t value = static_cast<std::uint32_t>(bits_) & ((1u << n) - 1);
    bits_ >>= n;
    held_ -= n;
    return value;
  }
  /// The next bits, which stay; zeros behind the end.
  std::uint32_t look(int n) {
    fill(n);
    return static_cast<std::uint32_t>(bits_) & ((1u << n) - 1);
  }
  void to_next_byte() { take(held_ % 8); }

 private:
  void fill(int n) {
    while (held_ < n && at_ < bytes_.size()) {
      bits_ |= std::uint64_t{static_cast<unsigned char>(bytes_[at_++])} << held_;
      held_ += 8;
    }
  }

  std::string_view bytes_;
  std::size_t at_ = 0;
  std::uint64_t bits_ = 0;
  int held_ = 0;
};

/// A Huffman code (3.2.2): how many words there are of each length, and what they stand for, in
/// order.
class Code {
 public:
  enum class Of { lengths, symbols };

  /// Lengths 0 to 15 of the words of 0, 1, ...; throws Damaged where there are more words than fit,
  /// or fewer, but for one word of one bit.
  Code(std::span<const std::uint8_t> lengths, Of of) {
    for (const std::uint8_t l : lengths)
      ++count_[l];
    count_[0] = 0;
    int left = 1;
    std::size_t longest = 0;
    std::array<std::uint16_t, kLongest + 2> first{};
    for (std::size_t l = 1; l <= kLongest; ++l) {
      left = 2 * left - count_[l];
      if (left < 0)
        throw Damaged();
      if (count_[l] != 0)
        longest = l;
      first[l + 1] = static_cast<std::uint16_t>(first[l] + count_[l]);
    }
    if (left > 0 && longest > 0 && (of == Of::lengths || longest != 1))
      throw Damaged();
    symbols_.resize(lengths.size());
    for (std::size_t s = 0; s < lengths.size(); ++s)
      if (lengths[s] != 0)
        symbols_[first[lengths[s]]++] = static_cast<std::uint16_t>(s);
    fill_short();
  }

  unsigned next(Bits& bits) const {
    if (const Short& s = short_[bits.look(kShort)]; s.length != 0) {
      bits.take(s.length);
      return s.symbol;
    }
    unsigned word = 0, first = 0, index = 0;
    for (std::size_t l = 1; l <= kLongest; ++l) {
      word |= bits.take(1);
      const unsigned count = count_[l];
      if (word < first + count)
        return symbols_[index + (word - first)];
      index += count;
      first = (first + count) << 1;
      word <<= 1;
    }
    throw Damaged();
  }

 private:
  static constexpr std::size_t kLongest = 15;
  static constexpr int kShort = 9;
  struct Short {
    std::uint8_t length = 0; ///< 0: the word is longer, or none
    std::uint16_t symbol = 0;
  };

  /// Every word of up to kShort bits, whatever follows it. Words begin with their highest bit.
  void fill_short() {
    unsigned word = 0, index = 0;
    for (int l = 1; l <= kShort; ++l, word <<= 1)
      for (unsigned k = 0; k < count_[static_cast<std::size_t>(l)]; ++k, ++word, ++index) {
        unsigned turned = 0;
        for (int bit = 0; bit < l; ++bit)
          turned |= (word >> bit & 1) << (l - 1 - bit);
        for (unsigned at = turned; at < short_.size(); at += 1u << l)
          short_[at] = {static_cast<std::uint8_t>(l), symbols_[index]};
      }
  }

  std::array<std::uint16_t, kLongest + 1> count_{};
  std::vector<std::uint16_t> symbols_;
  std::array<Short, 1 << kShort> short_{};
};

// 3.2.5: lengths from 257 on and distances, where each begins and how many bits follow.
constexpr std::array<std::uint16_t, 29> kLength{3,  4,  5,  6,   7,   8,   9,   10,  11, 13,
                                                15, 17, 19, 23,  27,  31,  35,  43,  51, 59,
                                                67, 83, 99, 115, 131, 163, 195, 227, 258};
constexpr std::array<std::uint8_t, 29> kLengthBits{0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 2, 2, 2,
                                                   2, 3, 3, 3, 3, 4, 4, 4, 4, 5, 5, 5, 5, 0};
constexpr std::array<std::uint16_t, 30> kDistance{
    1,   2,   3,   4,   5,   7,    9,    13,   17,   25,   33,   49,   65,    97,    129,
    193, 257, 385, 513, 769, 1025, 1537, 2049, 3073, 4097, 6145, 8193, 12289, 16385, 24577};
constexpr std::array<std::uint8_t, 30> kDistanceBits{0, 0, 0,  0,  1,  1,  2,  2,  3,  3,
                                                     4, 4, 5,  5,  6,  6,  7,  7,  8,  8,
                                                     9, 9, 10, 10, 11, 11, 12, 12, 13, 13};

/// What was unpacked: the last 32 KiB are kept, for what is said again.
class Window {
 public:
  explicit Window(const std::function<void(std::string_view)>& take) : take_(take) {
    bytes_.reserve(kMost);
  }
  void add(char byte) {
    if (bytes_.size() == kMost)
      hand_over();
    bytes_.push_back(byte);
  }
  void again(std::size_t distance, std::size_t length) {
    if (distance > bytes_.size())
      throw Damaged();
    if (bytes_.size() + length > kMost) {
      hand_over();
    }
    for (std::size_t i = 0; i < length; ++i)
      bytes_.push_back(bytes_[bytes_.size() - distance]);
  }
  void finish() { take_(std::string_view(bytes_).substr(handed_)); }

 private:
  static constexpr std::size_t kKept = 1 << 15, kMost = 3 * kKept;
  void hand_over() {
    take_(std::string_view(bytes_).substr(handed_));
    bytes_.erase(0, bytes_.size() - kKept);
    handed_ = kKept;
  }

  const std::function<void(std::string_view)>& take_;
  std::string bytes_;
  std::size_t handed_ = 0; ///< so many at the front have been given away
};

void stored(Bits& bits, Window& out) {
  bits.to_next_byte();
  const std::uint32_t length = bits.take(16), check = bits.take(16);
  if (length != (~check & 0xffff))
    throw Damaged();
  for (std::uint32_t i = 0; i < length; ++i)
    out.add(static_cast<char>(bits.take(8)));
}

void words(Bits& bits, const Code& literals, const Code& distances, Window& out) {
  constexpr unsigned kEnd = 256;
  for (unsigned s = literals.next(bits); s != kEnd; s = literals.next(bits)) {
    if (s < kEnd) {
      out.add(static_cast<char>(s));
      continue;
    }
    const std::size_t l = s - kEnd - 1;
    if (l >= kLength.size())
      throw Damaged();
    const std::size_t length = kLength[l] + bits.take(kLengthBits[l]);
    const std::size_t d = distances.next(bits);
    if (d >= kDistance.size())
      throw Damaged();
    out.again(kDistance[d] + bits.take(kDistanceBits[d]), length);
  }
}

void with_fixed_code(Bits& bits, Window& out) {
  std::array<std::uint8_t, 288> lengths{};
  for (std::size_t i = 0; i < lengths.size(); ++i)
    lengths[i] = i < 144 ? 8 : i < 256 ? 9 : i < 280 ? 7 : 8;
  std::array<std::uint8_t, 32> distances{};
  distances.fill(5);
  words(bits, Code(lengths, Code::Of::symbols), Code(distances, Code::Of::symbols), out);
}

void with_its_code(Bits& bits, Window& out) {
  const std::size_t literals = bits.take(5) + 257, distances = bits.take(5) + 1;
  const std::size_t given = bits.take(4) + 4;
  if (literals > 286 || distances > 30)
    throw Damaged();
  constexpr std::array<std::uint8_t, 19> kOrder{16, 17, 18, 0, 8,  7, 9,  6, 10, 5,
                                                11, 4,  12, 3, 13, 2, 14, 1, 15};
  std::array<std::uint8_t, 19> of_lengths{};
  for (std::size_t i = 0; i < given; ++i)
    of_lengths[kOrder[i]] = static_cast<std::uint8_t>(bits.take(3));
  const Code code(of_lengths, Code::Of::lengths);
  std::vector<std::uint8_t> lengths;
  while (lengths.size() < literals + distances) {
    const unsigned s = code.next(bits);
    if (s < 16) {
      lengths.push_back(static_cast<std::uint8_t>(s));
      continue;
    }
    if (s == 16 && lengths.empty())
      throw Damaged();
    const std::uint8_t value = s == 16 ? lengths.back() : std::uint8_t{0};
    const std::size_t times = s == 16   ? 3 + bits.take(2)
                              : s == 17 ? 3 + bits.take(3)
                                        : 11 + bits.take(7);
    lengths.insert(lengths.end(), times, value);
  }
  if (lengths.size() > literals + distances || lengths[256] == 0)
    throw Damaged();
  const std::span<const std::uint8_t> all(lengths);
  words(bits, Code(all.first(literals), Code::Of::symbols),
        Code(all.subspan(literals), Code::Of::symbols), out);
}

} // namespace

Unpacked inflate(std::string_view packed, const std::function<void(std::string_view)>& take) {
  try {
    Bits bits(packed);
    Window out(take);
    for (bool last = false; !last;) {
      last = bits.take(1) != 0;
      switch (bits.take(2)) {
      case 0:
        stored(bits, out);
        break;
      case 1:
        with_fixed_code(bits, out);
        break;
      case 2:
        with_its_code(bits, out);
        break;
      default:
        throw Damaged();
      }
    }
    out.finish();
    return Unpacked::whole;
  } catch (const EndsEarly&) {
    return Unpacked::ends_early;
  } catch (const Damaged&) {
    return Unpacked::damaged;
  }
}

} // namespace leastwall
