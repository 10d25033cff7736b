// PNG files against readers that are not ours: libpng (through Cairo) and zlib's inflate.
#include "report/draw/canvas/png_file.h"

#include "report/draw/png_read_back.h"

#include <doctest/doctest.h>
#include <functional>
#include <random>
#include <tbb/global_control.h>
#include <zlib.h>

using namespace leastwall;

namespace {

struct Pixels {
  int width, height, spare; ///< words after each row that are no part of the picture
  std::vector<std::uint32_t> words;

  Pixels(int w, int h, int spare_text, const std::function<std::uint32_t(int, int)>& at)
      : width(w), height(h), spare(spare_text) {
    for (int y = 0; y < h; ++y)
      for (int x = 0; x < w + spare; ++x)
        words.push_back(x < w ? at(x, y) : 0xffabcdefu);
  }
  std::string png() const {
    return png_file({words.data(), width, height, static_cast<std::size_t>(width + spare)});
  }
  std::uint32_t at(std::size_t x, std::size_t y) const {
    return words[y * static_cast<std::size_t>(width + spare) + x] & 0xffffffu;
  }
};

std::uint32_t number_at(const std::string& bytes, std::size_t at) {
  std::uint32_t n = 0;
  for (std::size_t i = 0; i < 4; ++i)
    n = n << 8 | static_cast<unsigned char>(bytes[at + i]);
  return n;
}

struct Chunk {
  std::string type, data;
};

/// ISO/IEC 15948:2004 clause 5: the signature, then chunks of length, type, data and CRC.
std::vector<Chunk> chunks_of(const std::string& png) {
  REQUIRE(png.substr(0, 8) == std::string("\x89PNG\r\n\x1a\n"));
  std::vector<Chunk> chunks;
  for (std::size_t at = 8; at < png.size();) {
    REQUIRE(at + 12 <= png.size());
    const std::uint32_t length = number_at(png, at);
    REQUIRE(length < 0x80000000u);
    REQUIRE(at + 12 + length <= png.size());
    chunks.push_back({png.substr(at + 4, 4), png.substr(at + 8, length)});
    const auto* from = reinterpret_cast<const Bytef*>(png.data() + at + 4);
    REQUIRE(number_at(png, at + 8 + length) == crc32(0, from, length + 4));
    at += 12 + length;
  }
  return chunks;
}

/// The filtered rows, by zlib, which checks the sum over all of them too (RFC 1950).
std::string rows_of(const std::vector<Chunk>& chunks, std::size_t size) {
  std::string stream;
  for (const Chunk& c : chunks)
    if (c.type == "IDAT")
      stream += c.data;
  std::string rows(size + 1, '\0'); // one more than there should be
  uLongf got = rows.size();
  REQUIRE(uncompress(reinterpret_cast<Bytef*>(rows.data()), &got,
                     reinterpret_cast<const Bytef*>(stream.data()), stream.size()) == Z_OK);
  REQUIRE(got == size);
  rows.resize(size);
  return rows;
}

/// Undoes filters 0 to 2 of clause 9.2, pixel by pixel.
bool rows_hold(const std::string& rows, const Pixels& want) {
  const std::size_t n = 3 * static_cast<std::size_t>(want.width);
  std::vector<unsigned char> above(n, 0), here(n);
  for (std::size_t y = 0; y < static_cast<std::size_t>(want.height); ++y) {
    const std::size_t row = y * (n + 1);
    const int filter = rows[row];
    if (filter < 0 || filter > 2)
      return false;
    for (std::size_t i = 0; i < n; ++i) {
      const int from = filter == 2 ? above[i] : filter == 1 && i >= 3 ? here[i - 3] : 0;
      here[i] = static_cast<unsigned char>(rows[row + 1 + i] + from);
    }
    for (std::size_t x = 0; 3 * x < n; ++x)
      if ((std::uint32_t{here[3 * x]} << 16 | std::uint32_t{here[3 * x + 1]} << 8 |
           here[3 * x + 2]) != want.at(x, y))
        return false;
    above = here;
  }
  return true;
}

void check_read_back(const Pixels& pixels) {
  CAPTURE(pixels.width);
  CAPTURE(pixels.height);
  const std::string png = pixels.png();
  const std::vector<Chunk> chunks = chunks_of(png);
  REQUIRE(chunks.size() >= 3);
  CHECK(chunks.front().type == "IHDR");
  CHECK(chunks.back().type == "IEND");
  CHECK(chunks.back().data.empty());
  REQUIRE(chunks.front().data.size() == 13);
  CHECK(number_at(chunks.front().data, 0) == static_cast<std::uint32_t>(pixels.width));
  CHECK(number_at(chunks.front().data, 4) == static_cast<std::uint32_t>(pixels.height));
  // Table 11.1: colour type 2 with 8 bits; no other packing or filter method; not interlaced.
  CHECK(chunks.front().data.substr(8) == std::string("\x08\x02\x00\x00\x00", 5));
  const std::size_t size =
      (1 + 3 * static_cast<std::size_t>(pixels.width)) * static_cast<std::size_t>(pixels.height);
  CHECK(rows_hold(rows_of(chunks, size), pixels));
  if (pixels.width > 32767 || pixels.height > 32767)
    return; // more than Cairo holds
  const sample::ReadBack back(png);
  REQUIRE(back.width == pixels.width);
  REQUIRE(back.height == pixels.height);
  std::size_t wrong = 0;
  for (std::size_t k = 0; k < back.pixels.size(); ++k) {
    const std::size_t w = static_cast<std::size_t>(back.width);
    const Rgb p = back.pixels[k];
    const std::uint32_t got = std::uint32_t{p.r} << 16 | std::uint32_t{p.g} << 8 | p.b;
    wrong += got != pixels.at(k % w, k / w) ? 1 : 0;
  }
  CHECK(wrong == 0);
}

std::uint32_t slope(int x, int y) {
  return static_cast<std::uint32_t>(x * 3 % 256) << 16 | static_cast<std::uint32_t>(y % 256) << 8 |
         static_cast<std::uint32_t>((x + y) / 7 % 256);
}

} // namespace

TEST_CASE("PNG: one pixel, lines, wide, high and spare words between rows") {
  for (const auto& [w, h, spare] : {std::array{1, 1, 0},
                                    {1, 2, 3},
                                    {1, 511, 0},
                                    {511, 1, 5},
                                    {7, 64, 1},
                                    {63, 65, 0},
                                    {32767, 9, 0},
                                    {3, 32767, 1},
                                    {200001, 3, 0},
                                    {2, 70001, 0}})
    check_read_back(Pixels(w, h, spare, slope));
}

TEST_CASE("PNG: rows that fill strips of 256 KiB to the byte, and one row more or less") {
  // A row of 341 pixels has 1024 bytes with its filter; 256 of them are one strip.
  for (const int rows : {255, 256, 257, 511, 512, 513})
    check_read_back(Pixels(341, rows, 0, slope));
}

TEST_CASE("PNG: noise that cannot be packed, in more than one chunk of data; one colour; repeats") {
  std::mt19937 random(8);
  const Pixels noise(1100, 1001, 2, [&](int, int) { return static_cast<std::uint32_t>(random()); });
  check_read_back(noise);
  std::size_t data = 0;
  for (const Chunk& c : chunks_of(noise.png()))
    data += c.type == "IDAT" ? 1 : 0;
  CHECK(data > 1);
  for (const std::uint32_t colour : {0xff000000u, 0x00ffffffu, 0x80808080u})
    check_read_back(Pixels(900, 700, 0, [&](int, int) { return colour; }));
  // What stands a whole window of 32 KiB earlier: 10923 x 3 bytes are one more than a window.
  std::vector<std::uint32_t> line(10923);
  for (std::uint32_t& word : line)
    word = static_cast<std::uint32_t>(random());
  check_read_back(
      Pixels(10923, 30, 0, [&](int x, int) { return line[static_cast<std::size_t>(x)]; }));
}

TEST_CASE("PNG: the same bytes on one and on four threads") {
  std::mt19937 random(9);
  const Pixels pixels(1001, 700, 1, [&](int x, int y) {
    return x * y % 11 == 0 ? static_cast<std::uint32_t>(random()) : slope(x, y);
  });
  const auto on = [&](std::size_t threads) {
    const tbb::global_control limit(tbb::global_control::max_allowed_parallelism, threads);
    return pixels.png();
  };
  const std::string one = on(1);
  CHECK(one == on(4));
  CHECK(one == on(2));
}

TEST_CASE("PNG: the words in it, as iTXt (ISO/IEC 15948, clause 11.3.4.5), and none where there "
          "are none") {
  const std::vector<std::uint32_t> one{0x123456};
  const std::string words = "AT RISK\nleast wall 0.672 mm \u00b1";
  const std::vector<Chunk> chunks = chunks_of(png_file({one.data(), 1, 1, 1}, words));
  REQUIRE(chunks.size() == 4);
  CHECK(chunks[1].type == "iTXt");
  // Keyword, its end, not packed, the only method, no language, no translated keyword.
  CHECK(chunks[1].data == std::string("Description\0\0\0\0\0", 16) + words);
  CHECK(chunks_of(png_file({one.data(), 1, 1, 1})).size() == 3);
}
