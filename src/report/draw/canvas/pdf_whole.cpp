#include "report/draw/canvas/pdf_whole.h"

#include <array>
#include <charconv>
#include <cstdint>
#include <optional>
#include <zlib.h>

namespace leastwall {
namespace {

/// Reads a whole number at `at` and moves behind it; absent when there is none.
std::optional<std::uint64_t> number_at(std::string_view pdf, std::size_t& at) {
  while (at < pdf.size() && (pdf[at] == ' ' || pdf[at] == '\n' || pdf[at] == '\r'))
    ++at;
  std::uint64_t value = 0;
  const auto [end, error] = std::from_chars(pdf.data() + at, pdf.data() + pdf.size(), value);
  if (error != std::errc{})
    return std::nullopt;
  at = static_cast<std::size_t>(end - pdf.data());
  return value;
}

bool inflates(std::string_view data) {
  z_stream z = {};
  if (::inflateInit(&z) != Z_OK)
    return false;
  std::array<unsigned char, 1 << 14> out;
  z.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(data.data())); // zlib reads only
  z.avail_in = static_cast<uInt>(data.size());
  int state = Z_OK;
  while (state == Z_OK) {
    z.next_out = out.data();
    z.avail_out = static_cast<uInt>(out.size());
    state = ::inflate(&z, Z_NO_FLUSH);
  }
  ::inflateEnd(&z);
  return state == Z_STREAM_END;
}

/// The object `number` begins at `at`, and its stream is whole where it has a deflated one.
bool object_is_whole(std::string_view pdf, std::size_t at, std::uint64_t number) {
  if (at >= pdf.size() || number_at(pdf, at) != number || number_at(pdf, at) != 0 ||
      pdf.substr(at, 4) != " obj")
    return false;
  const std::size_t end = pdf.find("endobj", at);
  const std::size_t stream = pdf.find("stream", at);
  if (end == pdf.npos)
    return false;
  if (stream == pdf.npos || stream > end)
    return true;
  if (pdf.substr(at, stream - at).find("/FlateDecode") == pdf.npos)
    return pdf.find("endstream", stream) != pdf.npos;
  std::size_t data = stream + 6;
  while (data < pdf.size() && (pdf[data] == '\r' || pdf[data] == '\n'))
    ++data;
  return inflates(pdf.substr(data));
}

} // namespace

bool pdf_is_whole(std::string_view pdf) {
  const std::size_t named = pdf.rfind("startxref");
  if (pdf.substr(0, 5) != "%PDF-" || named == pdf.npos || pdf.find("%%EOF", named) == pdf.npos)
    return false;
  std::size_t at = named + 9;
  const auto table = number_at(pdf, at);
  if (!table || *table >= pdf.size() || pdf.substr(*table, 4) != "xref")
    return false;
  at = *table + 4;
  const auto first = number_at(pdf, at), count = number_at(pdf, at);
  if (first != 0 || !count || *count < 2)
    return false;
  for (std::uint64_t i = 0; i < *count; ++i) {
    const auto offset = number_at(pdf, at);
    if (!offset || !number_at(pdf, at) || at + 2 > pdf.size())
      return false;
    const char kind = pdf[at + 1];
    at += 2;
    if (kind == 'n' ? !object_is_whole(pdf, *offset, i) : kind != 'f')
      return false;
  }
  return true;
}

} // namespace leastwall
