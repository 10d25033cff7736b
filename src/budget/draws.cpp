#include "budget/draws.h"

#include <cmath>
#include <numbers>

namespace leastwall {
namespace {

std::uint64_t mix(std::uint64_t z) {
  z += 0x9e3779b97f4a7c15u;
  z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
  z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
  return z ^ (z >> 31);
}

} // namespace

std::uint64_t stream_of(std::string_view name) {
  std::uint64_t h = 0xcbf29ce484222325u;
  for (const char c : name)
    h = (h ^ static_cast<unsigned char>(c)) * 0x100000001b3u;
  return h;
}

std::uint64_t stream_of_part(std::uint64_t stream, std::uint32_t part) {
  return mix(stream + part + 1);
}

std::uint64_t stream_start(std::uint64_t seed, std::uint64_t stream) {
  return mix(mix(seed) ^ stream);
}

double uniform_draw_from(std::uint64_t start, std::uint64_t trial, std::uint64_t which) {
  const std::uint64_t bits = mix(mix(start ^ trial) + which);
  return (static_cast<double>(bits >> 11) + 0.5) * 0x1p-53;
}

double uniform_draw(std::uint64_t seed, std::uint64_t trial, std::uint64_t stream,
                    std::uint64_t which) {
  return uniform_draw_from(stream_start(seed, stream), trial, which);
}

double normal_draw(double u1, double u2) {
  return std::sqrt(-2 * std::log(u1)) * std::cos(2 * std::numbers::pi * u2);
}

} // namespace leastwall
