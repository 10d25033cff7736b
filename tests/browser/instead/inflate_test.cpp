// Our unpacking of deflated bytes against zlib's, whole and damaged.
#include "browser/instead/inflate.h"

#include <cstddef>
#include <doctest/doctest.h>
#include <random>
#include <string>
#include <zlib.h>

using namespace leastwall;

namespace {

std::string deflated(const std::string& plain, int level, int strategy) {
  std::string out(compressBound(plain.size()) + 64, '\0');
  z_stream s{};
  REQUIRE(deflateInit2(&s, level, Z_DEFLATED, -MAX_WBITS, 8, strategy) == Z_OK);
  std::string in = plain;
  s.next_in = reinterpret_cast<Bytef*>(in.data());
  s.avail_in = static_cast<uInt>(in.size());
  s.next_out = reinterpret_cast<Bytef*>(out.data());
  s.avail_out = static_cast<uInt>(out.size());
  REQUIRE(deflate(&s, Z_FINISH) == Z_STREAM_END);
  out.resize(s.total_out);
  deflateEnd(&s);
  return out;
}

std::string collected(Unpacked (*unpack)(std::string_view,
                                         const std::function<void(std::string_view)>&),
                      std::string_view packed, Unpacked& end) {
  std::string out;
  end = unpack(packed, [&out](std::string_view piece) { out += piece; });
  return out;
}

} // namespace

TEST_CASE("inflate: what zlib packs at every level, damaged or not, ends as zlib ends it") {
  std::mt19937 numbers(5);
  const auto below = [&](std::size_t n) { return static_cast<std::size_t>(numbers() % n); };
  int whole = 0, early = 0, damaged = 0;
  for (int i = 0; i < 4000; ++i) {
    std::string plain;
    const std::size_t letters = 1 + below(60);
    for (std::size_t n = below(5000); n > 0; --n)
      plain += plain.size() > 10 && below(5) == 0 ? plain[plain.size() - 1 - below(10)]
                                                  : static_cast<char>('a' + below(letters));
    if (i % 100 == 0) // longer than what is kept for repeating
      for (int k = 0; k < 7; ++k)
        plain += plain.substr(0, 60'000);
    std::string packed = deflated(plain, static_cast<int>(below(10)), static_cast<int>(below(5)));
    if (i % 2 == 1) {
      if (below(3) == 0)
        packed.resize(below(packed.size() + 1));
      else
        for (std::size_t k = 1 + below(3); k > 0; --k)
          packed[below(packed.size())] ^= static_cast<char>(1 << below(8));
    }
    Unpacked ours{}, peer{};
    const std::string got = collected(inflate, packed, ours);
    const std::string right = collected(unpack_deflate, packed, peer);
    REQUIRE(ours == peer);
    if (ours == Unpacked::whole)
      REQUIRE(got == right);
    if (i % 2 == 0)
      REQUIRE((ours == Unpacked::whole && got == plain));
    whole += ours == Unpacked::whole;
    early += ours == Unpacked::ends_early;
    damaged += ours == Unpacked::damaged;
  }
  CHECK(whole > 2000);
  CHECK(early > 200);
  CHECK(damaged > 100);
}
