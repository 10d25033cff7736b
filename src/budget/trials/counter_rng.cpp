#include "budget/trials/counter_rng.h"

namespace leastwall {
namespace {

std::uint64_t mix(std::uint64_t z) {
  z += 0x9e3779b97f4a7c15u;
  z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
  z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
  return z ^ (z >> 31);
}

} // namespace

std::uint64_t stream_of(const CauseId& id) {
  const std::uint64_t side = id.side ? (*id.side == Side::a ? 1 : 2) : 0;
  return mix(static_cast<std::uint64_t>(id.kind) | side << 8 | (id.in_pad ? 1u : 0u) << 10 |
             static_cast<std::uint64_t>(id.board & 0x1fu) << 11 |
             static_cast<std::uint64_t>(id.set_up & 0xffffu) << 16 |
             static_cast<std::uint64_t>(id.instance) << 32);
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

} // namespace leastwall
