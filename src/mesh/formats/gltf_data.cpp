#include "mesh/formats/gltf_data.h"

#include "base/errors.h"
#include "base/file/refuse_file.h"

#include <algorithm>
#include <bit>
#include <cstring>
#include <fmt/format.h>

namespace leastwall {
namespace {

using nlohmann::json;

/// RFC 4648, section 4; nothing when it is no such text.
std::optional<std::string> from_base64(std::string_view text) {
  std::string bytes;
  bytes.reserve(text.size() / 4 * 3 + 3);
  while (!text.empty() && text.back() == '=')
    text.remove_suffix(1);
  std::uint32_t bits = 0;
  int held = 0;
  for (const char c : text) {
    std::uint32_t digit = 0;
    if (c >= 'A' && c <= 'Z')
      digit = static_cast<std::uint32_t>(c - 'A');
    else if (c >= 'a' && c <= 'z')
      digit = static_cast<std::uint32_t>(c - 'a' + 26);
    else if (c >= '0' && c <= '9')
      digit = static_cast<std::uint32_t>(c - '0' + 52);
    else if (c == '+' || c == '/')
      digit = c == '+' ? 62 : 63;
    else
      return std::nullopt;
    bits = bits << 6 | digit;
    held += 6;
    if (held >= 8) {
      held -= 8;
      bytes += static_cast<char>(bits >> held & 0xff);
    }
  }
  return bytes;
}

/// RFC 3986, section 2.1: %20 is a blank.
std::string from_percent(std::string_view uri) {
  const auto hex = [](char c) {
    return c >= '0' && c <= '9'   ? c - '0'
           : c >= 'a' && c <= 'f' ? c - 'a' + 10
           : c >= 'A' && c <= 'F' ? c - 'A' + 10
                                  : -1;
  };
  std::string text;
  for (std::size_t i = 0; i < uri.size(); ++i) {
    if (uri[i] == '%' && i + 2 < uri.size() && hex(uri[i + 1]) >= 0 && hex(uri[i + 2]) >= 0) {
      text += static_cast<char>(hex(uri[i + 1]) * 16 + hex(uri[i + 2]));
      i += 2;
    } else {
      text += uri[i];
    }
  }
  return text;
}

} // namespace

GltfData::GltfData(const MappedFile& file, const GltfDocument& document)
    : file_(file), document_(document), buffers_(gltf_list(file, document.root, "buffers")),
      bytes_(buffers_.size()) {}

std::string_view GltfData::side_file(const std::string& uri, std::uint64_t which) {
  namespace fs = std::filesystem;
  std::error_code error;
  const fs::path folder = fs::canonical(fs::absolute(file_.path()).parent_path(), error);
  const fs::path side = fs::canonical(folder / from_percent(uri), error); // links, ".." resolved
  const bool within =
      !error &&
      std::mismatch(folder.begin(), folder.end(), side.begin(), side.end()).first == folder.end();
  if (!within || !fs::is_regular_file(side, error))
    refuse_file(file_.path(),
                fmt::format("the file \"{}\" of glTF buffer {} is not there, or not in the "
                            "model's folder",
                            one_line(uri, 100), which),
                "put the files of the model side by side, or export it as one binary glTF");
  try {
    return side_files_.emplace_back(side).text();
  } catch (const InputError& e) {
    refuse_file(file_.path(), fmt::format("glTF buffer {} cannot be read ({})", which, e.what()),
                "export the mesh again");
  }
}

std::string_view GltfData::buffer(std::uint64_t which) {
  std::optional<std::string_view>& bytes = bytes_[static_cast<std::size_t>(which)];
  if (bytes)
    return *bytes;
  const json& object = buffers_[static_cast<std::size_t>(which)];
  const auto uri = object.find("uri");
  if (uri == object.end()) {
    if (which != 0 || !document_.binary)
      refuse_gltf(file_, fmt::format("glTF buffer {} has no data", which));
    bytes = *document_.binary;
  } else {
    const std::string text = uri->is_string() ? uri->get<std::string>() : std::string();
    if (text.starts_with("data:")) {
      const std::size_t comma = text.find(',');
      if (comma == text.npos || !text.substr(0, comma).ends_with(";base64"))
        refuse_gltf(file_, fmt::format("glTF buffer {} holds data that are not in base64", which));
      auto decoded = from_base64(std::string_view(text).substr(comma + 1));
      if (!decoded)
        refuse_gltf(file_, fmt::format("glTF buffer {} holds data that are not in base64", which));
      bytes = decoded_.emplace_back(std::move(*decoded));
    } else {
      bytes = side_file(text, which);
    }
  }
  const std::uint64_t length = gltf_whole(file_, object, "byteLength").value_or(0);
  if (length > bytes->size())
    refuse_gltf(file_, fmt::format("glTF buffer {} is shorter than it says", which));
  return *bytes;
}

GltfData::Items GltfData::items(std::uint64_t accessor, const char* shape, std::uint64_t numbers) {
  const json& accessors = gltf_list(file_, document_.root, "accessors");
  if (accessor >= accessors.size())
    refuse_gltf(file_, fmt::format("glTF accessor {} is not there", accessor));
  const json& object = accessors[static_cast<std::size_t>(accessor)];
  const auto which = gltf_whole(file_, object, "bufferView");
  if (object.contains("sparse") || !which)
    refuse_file(
        file_.path(),
        fmt::format("glTF accessor {} keeps its data in a way that is not read here", accessor),
        "export it without compression or sparse data, or as binary STL or PLY");
  if (object.at("type") != shape)
    refuse_gltf(file_, fmt::format("glTF accessor {} is of type {} instead of {}", accessor,
                                   one_line(object.at("type").dump(), 40), shape));
  const json& views = gltf_list(file_, document_.root, "bufferViews");
  const json& view = views[static_cast<std::size_t>(*which)]; // it is there: open_gltf() has looked
  Items items;
  items.type = gltf_whole(file_, object, "componentType").value_or(0);
  items.count = gltf_whole(file_, object, "count").value_or(0);
  const std::uint64_t size = items.type == 5121 ? 1 : items.type == 5123 ? 2 : 4;
  items.step = gltf_whole(file_, view, "byteStride").value_or(size * numbers);
  if (items.step < size * numbers)
    refuse_gltf(file_, fmt::format("glTF accessor {} has data that overlap", accessor));
  if (items.count == 0)
    refuse_gltf(file_, fmt::format("glTF accessor {} is empty", accessor));
  const std::string_view bytes = buffer(gltf_whole(file_, view, "buffer").value_or(0));
  items.at = bytes.data() + gltf_whole(file_, view, "byteOffset").value_or(0) +
             gltf_whole(file_, object, "byteOffset").value_or(0);
  return items;
}

Vec3 GltfData::Positions::operator[](std::size_t i) const {
  static_assert(std::endian::native == std::endian::little);
  float p[3];
  std::memcpy(p, at + i * step, sizeof p);
  return {double{p[0]}, double{p[1]}, double{p[2]}};
}

GltfData::Positions GltfData::positions(std::uint64_t accessor) {
  const Items from = items(accessor, "VEC3", 3);
  if (from.type != 5126)
    refuse_file(file_.path(),
                fmt::format("glTF accessor {} holds quantized positions, which are not read here",
                            accessor),
                "export it without quantization, or as binary STL or PLY");
  return {from.at, from.count, from.step};
}

std::vector<std::uint32_t> GltfData::indices(std::uint64_t accessor) {
  const Items from = items(accessor, "SCALAR", 1);
  if (from.type != 5121 && from.type != 5123 && from.type != 5125)
    refuse_gltf(file_, fmt::format("glTF accessor {} holds no numbers of vertices", accessor));
  const std::size_t size = from.type == 5121 ? 1 : from.type == 5123 ? 2 : 4;
  std::vector<std::uint32_t> numbers;
  numbers.reserve(static_cast<std::size_t>(from.count));
  const char* at = from.at;
  for (std::uint64_t i = 0; i < from.count; ++i, at += from.step) {
    std::uint32_t n = 0; // the low bytes come first
    std::memcpy(&n, at, size);
    numbers.push_back(n);
  }
  return numbers;
}

void GltfData::check_unchanged() const {
  for (const MappedFile& side : side_files_)
    side.check_unchanged();
}

} // namespace leastwall
