#include "report/draw/canvas/png_file.h"

#include "base/errors.h"
#include "base/parallel.h"

#include <algorithm>
#include <span>
#include <string_view>
#include <vector>
#include <zlib.h>

namespace leastwall {
namespace {

constexpr std::size_t kStripBytes = 1 << 18;
constexpr std::size_t kWindow = 32768; // of RFC 1951
constexpr int kLevel = 3; // half the time of 6 for pictures a fifth larger (measured on maps)
constexpr std::size_t kChunkBytes = 1 << 20; // no chunk may have 2^31 (clause 5.3)
constexpr std::size_t kBpp = 3;              // bytes a pixel

void append_number(std::string& out, std::uint32_t n) {
  for (const int shift : {24, 16, 8, 0})
    out.push_back(static_cast<char>(n >> shift & 0xff));
}

const Bytef* bytes_of(std::string_view text) {
  return reinterpret_cast<const Bytef*>(text.data());
}

/// A chunk: length, type and data, and their CRC (clause 5.3).
void append_chunk(std::string& out, std::string_view type, std::string_view data) {
  append_number(out, static_cast<std::uint32_t>(data.size()));
  const std::size_t from = out.size();
  out.append(type).append(data);
  append_number(out, static_cast<std::uint32_t>(
                         crc32(0, bytes_of(out) + from, static_cast<uInt>(out.size() - from))));
}

/// Filter types of clause 9.2.
enum class Filter : unsigned char { none = 0, sub = 1, up = 2 };

class Rows {
 public:
  explicit Rows(const PngPixels& p) : p_(p), size_(1 + kBpp * static_cast<std::size_t>(p.width)) {
    all_.resize(size_ * static_cast<std::size_t>(p.height));
  }

  std::size_t size() const { return size_; }
  std::span<const unsigned char> all() const { return all_; }

  /// Writes the row with the filter that leaves the smallest numbers.
  void fill(std::size_t row, std::vector<unsigned char>& above, std::vector<unsigned char>& here) {
    const std::size_t n = size_ - 1;
    plain(row, here);
    if (row > 0)
      plain(row - 1, above);
    else
      std::fill(above.begin(), above.end(), static_cast<unsigned char>(0));
    unsigned char* to = all_.data() + row * size_;
    const auto size_of = [](unsigned char d) { // of the difference, with its sign
      return std::uint32_t{d < 128 ? d : 256u - d};
    };
    std::uint32_t sub = 0, up = 0, none = 0; // a row has far fewer than 2^25 bytes
    for (std::size_t i = 0; i < n; ++i) {
      none += size_of(here[i]);
      up += size_of(static_cast<unsigned char>(here[i] - above[i]));
    }
    for (std::size_t i = 0; i < std::min(n, kBpp); ++i)
      sub += size_of(here[i]);
    for (std::size_t i = kBpp; i < n; ++i)
      sub += size_of(static_cast<unsigned char>(here[i] - here[i - kBpp]));
    const Filter best = up <= sub && up <= none ? Filter::up
                        : sub <= none           ? Filter::sub
                                                : Filter::none;
    to[0] = static_cast<unsigned char>(best);
    for (std::size_t i = 0; i < n; ++i) {
      const int from = best == Filter::up                 ? above[i]
                       : best == Filter::sub && i >= kBpp ? here[i - kBpp]
                                                          : 0;
      to[i + 1] = static_cast<unsigned char>(here[i] - from);
    }
  }

 private:
  void plain(std::size_t row, std::vector<unsigned char>& bytes) const {
    const std::uint32_t* words = p_.words + row * p_.stride;
    for (std::size_t i = 0; i < static_cast<std::size_t>(p_.width); ++i) {
      bytes[kBpp * i] = static_cast<unsigned char>(words[i] >> 16);
      bytes[kBpp * i + 1] = static_cast<unsigned char>(words[i] >> 8);
      bytes[kBpp * i + 2] = static_cast<unsigned char>(words[i]);
    }
  }

  const PngPixels& p_;
  std::size_t size_;
  std::vector<unsigned char> all_;
};

[[noreturn]] void no_room() {
  throw RunError("picture: memory ran out while it was packed as PNG; close other programs and try "
                 "again");
}

/// A stream of zlib's, let go whatever happens.
struct Deflater {
  z_stream z = {};

  Deflater() {
    if (deflateInit2(&z, kLevel, Z_DEFLATED, -15, 8, Z_DEFAULT_STRATEGY) != Z_OK)
      no_room();
  }
  ~Deflater() { deflateEnd(&z); }
  Deflater(const Deflater&) = delete;
  Deflater& operator=(const Deflater&) = delete;
};

/// Deflates all[begin, end) as a part of a longer stream: what comes before may be referred to, and
/// all but the last part end at a whole byte.
std::string deflated(std::span<const unsigned char> all, std::size_t begin, std::size_t end) {
  Deflater deflater;
  z_stream& z = deflater.z;
  const std::size_t before = std::min(begin, kWindow);
  if (before > 0)
    deflateSetDictionary(&z, all.data() + begin - before, static_cast<uInt>(before));
  std::string out(deflateBound(&z, static_cast<uLong>(end - begin)) + 16, '\0');
  // zlib does not write to its input.
  z.next_in = const_cast<Bytef*>(all.data() + begin);
  z.avail_in = static_cast<uInt>(end - begin);
  z.next_out = reinterpret_cast<Bytef*>(out.data());
  z.avail_out = static_cast<uInt>(out.size());
  const bool last = end == all.size();
  const int status = deflate(&z, last ? Z_FINISH : Z_SYNC_FLUSH);
  // A flush is whole when it leaves room (zlib.h).
  if (status != (last ? Z_STREAM_END : Z_OK) || z.avail_in != 0 || (!last && z.avail_out == 0))
    no_room();
  out.resize(out.size() - z.avail_out);
  return out;
}

} // namespace

std::string png_file(const PngPixels& pixels, std::string_view words) {
  Rows rows(pixels);
  const auto height = static_cast<std::size_t>(pixels.height);
  for_blocks(height, 64, {}, [&](std::size_t begin, std::size_t end) {
    std::vector<unsigned char> above(rows.size() - 1), here(rows.size() - 1);
    for (std::size_t row = begin; row < end; ++row)
      rows.fill(row, above, here);
  });
  const std::span<const unsigned char> all = rows.all();
  struct Strip {
    std::string packed;
    uLong adler = 1;
  };
  std::vector<Strip> strips((all.size() + kStripBytes - 1) / kStripBytes);
  for_blocks(all.size(), kStripBytes, {}, [&](std::size_t begin, std::size_t end) {
    strips[begin / kStripBytes] = {deflated(all, begin, end),
                                   adler32(1, all.data() + begin, static_cast<uInt>(end - begin))};
  });
  std::string stream("\x78\x9c", 2); // RFC 1950: deflate, window of 32 KiB, usual effort
  uLong adler = 1;
  for (std::size_t k = 0; k < strips.size(); ++k) {
    stream += strips[k].packed;
    const std::size_t size = std::min(kStripBytes, all.size() - k * kStripBytes);
    adler = adler32_combine(adler, strips[k].adler, static_cast<z_off_t>(size));
  }
  append_number(stream, static_cast<std::uint32_t>(adler));

  std::string out("\x89PNG\r\n\x1a\n", 8);
  std::string header;
  append_number(header, static_cast<std::uint32_t>(pixels.width));
  append_number(header, static_cast<std::uint32_t>(pixels.height));
  header.append("\x08\x02\x00\x00\x00", 5); // 8 bits, red green blue, the only methods there are
  append_chunk(out, "IHDR", header);
  if (!words.empty()) // keyword, not packed, no language, no translated keyword
    append_chunk(out, "iTXt", std::string("Description\0\0\0\0\0", 16).append(words));
  for (std::size_t at = 0; at < stream.size(); at += kChunkBytes)
    append_chunk(out, "IDAT", std::string_view(stream).substr(at, kChunkBytes));
  append_chunk(out, "IEND", {});
  return out;
}

} // namespace leastwall
