#include "mesh/syntax/unpack_deflate.h"

#include <algorithm>
#include <array>
#include <cstddef>
#include <new>
#include <zlib.h>

namespace leastwall {
namespace {

class Inflater {
 public:
  Inflater() {
    if (inflateInit2(&stream_, -MAX_WBITS) != Z_OK)
      throw std::bad_alloc();
  }
  ~Inflater() { inflateEnd(&stream_); }
  Inflater(const Inflater&) = delete;
  Inflater& operator=(const Inflater&) = delete;

  Unpacked run(std::string_view packed, const std::function<void(std::string_view)>& take) {
    std::array<char, 1 << 16> out;
    int state = Z_OK;
    while (state != Z_STREAM_END) {
      if (stream_.avail_in == 0) {
        const std::size_t n = std::min<std::size_t>(packed.size(), 1 << 20);
        if (n == 0)
          return Unpacked::ends_early;
        // zlib does not write through next_in, it only lacks the const.
        stream_.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(packed.data()));
        stream_.avail_in = static_cast<uInt>(n);
        packed.remove_prefix(n);
      }
      stream_.next_out = reinterpret_cast<Bytef*>(out.data());
      stream_.avail_out = static_cast<uInt>(out.size());
      state = inflate(&stream_, Z_NO_FLUSH);
      if (state != Z_OK && state != Z_STREAM_END && state != Z_BUF_ERROR)
        return Unpacked::damaged;
      take({out.data(), out.size() - stream_.avail_out});
    }
    return Unpacked::whole;
  }

 private:
  z_stream stream_{};
};

} // namespace

Unpacked unpack_deflate(std::string_view packed,
                        const std::function<void(std::string_view)>& take) {
  return Inflater().run(packed, take);
}

std::uint32_t crc32_of(std::uint32_t before, std::string_view bytes) {
  return static_cast<std::uint32_t>(
      crc32_z(before, reinterpret_cast<const Bytef*>(bytes.data()), bytes.size()));
}

} // namespace leastwall
