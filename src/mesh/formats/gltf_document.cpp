#include "mesh/formats/gltf_document.h"

#include "base/file/refuse_file.h"

#include <cstring>
#include <fmt/format.h>
#include <limits>

namespace leastwall {
namespace {

using nlohmann::json;

class GltfCheck {
 public:
  explicit GltfCheck(const MappedFile& file) : file_(file) {}

  GltfDocument run() {
    GltfDocument document;
    document.root = json::parse(text(), nullptr, false);
    document.binary = binary_;
    const json& root = document.root;
    if (root.is_discarded() || !root.is_object())
      refuse("is not well-formed glTF JSON");
    const auto asset = root.find("asset");
    if (asset == root.end() || !asset->is_object() || !asset->contains("version") ||
        !(*asset)["version"].is_string() ||
        !(*asset)["version"].get_ref<const std::string&>().starts_with("2."))
      refuse("is not glTF of version 2");
    extensions(root);
    const json& buffers = list(root, "buffers");
    const json& views = list(root, "bufferViews");
    for (std::size_t i = 0; i < buffers.size(); ++i)
      buffer(buffers[i], i);
    for (std::size_t i = 0; i < views.size(); ++i)
      view(views[i], buffers, i);
    const json& accessors = list(root, "accessors");
    for (std::size_t i = 0; i < accessors.size(); ++i)
      accessor(accessors[i], views, i);
    for (const json& node : list(root, "nodes"))
      this->node(node);
    return document;
  }

 private:
  [[noreturn]] void refuse(std::string_view what) const { refuse_gltf(file_, what); }
  const json& list(const json& object, const char* name) const {
    return gltf_list(file_, object, name);
  }
  std::optional<std::uint64_t> whole(const json& object, const char* name) const {
    return gltf_whole(file_, object, name);
  }

  /// What the file cannot do without, and what it does with nodes and meshes.
  void extensions(const json& root) const {
    const auto required = root.find("extensionsRequired");
    if (required == root.end())
      return;
    if (!required->is_array())
      refuse("glTF \"extensionsRequired\" is not a list");
    for (const json& item : *required) {
      const std::string name = item.is_string() ? item.get<std::string>() : item.dump();
      bool looks = false;
      for (const std::string_view start :
           {"KHR_materials_", "KHR_texture_", "EXT_texture_", "MSFT_texture_", "KHR_technique",
            "KHR_lights_", "EXT_lights_"})
        looks = looks || name.starts_with(start);
      if (!looks)
        refuse_file(file_.path(),
                    fmt::format("glTF needs the extension \"{}\", which is not read here",
                                one_line(name, 100)),
                    "export it without compression or quantization, or as binary STL or PLY");
    }
  }

  /// The JSON: all of a text file, the first chunk of a binary one.
  std::string_view text() {
    const std::string_view bytes = file_.text();
    if (!bytes.starts_with("glTF"))
      return bytes;
    constexpr std::size_t kHead = 12, kChunk = 8;
    const auto number = [&](std::size_t at) {
      std::uint32_t n = 0;
      if (bytes.size() < at + 4)
        refuse("binary glTF ends too early");
      std::memcpy(&n, bytes.data() + at, 4);
      return std::uint64_t{n};
    };
    const std::uint64_t json_length = number(kHead), whole = number(8);
    if (bytes.size() < kHead + kChunk)
      refuse("binary glTF ends too early");
    if (number(4) != 2 || bytes.substr(kHead + 4, 4) != "JSON")
      refuse("is not binary glTF of version 2");
    if (whole > bytes.size() || json_length > bytes.size() - kHead - kChunk)
      refuse("binary glTF ends too early");
    const std::uint64_t next = kHead + kChunk + json_length;
    if (next + kChunk <= bytes.size()) {
      const std::uint64_t length = number(static_cast<std::size_t>(next));
      if (length > bytes.size() - next - kChunk)
        refuse("binary glTF ends too early");
      if (bytes.substr(static_cast<std::size_t>(next) + 4, 4) != std::string_view("BIN\0", 4))
        refuse("binary glTF has a second part that holds no data");
      binary_ =
          bytes.substr(static_cast<std::size_t>(next + kChunk), static_cast<std::size_t>(length));
    }
    return bytes.substr(kHead + kChunk, static_cast<std::size_t>(json_length));
  }

  void buffer(const json& object, std::size_t number) const {
    const std::uint64_t length = whole(object, "byteLength").value_or(0);
    std::uint64_t held =
        std::numeric_limits<std::uint64_t>::max(); // other files: whoever reads them asks
    const auto uri = object.find("uri");
    if (uri == object.end()) {
      if (number == 0 && binary_)
        held = binary_->size();
    } else if (uri->is_string() && uri->get_ref<const std::string&>().starts_with("data:")) {
      const std::string& data = uri->get_ref<const std::string&>();
      const std::size_t comma = data.find(',');
      held = comma == data.npos ? 0 : (data.size() - comma - 1) / 4 * 3 + 3;
    }
    if (length > held)
      refuse(fmt::format("glTF buffer {} is shorter than it says", number));
  }

  void view(const json& object, const json& buffers, std::size_t number) const {
    const std::uint64_t which = whole(object, "buffer").value_or(buffers.size());
    if (which >= buffers.size())
      refuse(fmt::format("glTF buffer view {} names no buffer", number));
    const std::uint64_t room = whole(buffers[which], "byteLength").value_or(0);
    const std::uint64_t offset = whole(object, "byteOffset").value_or(0);
    const std::uint64_t length = whole(object, "byteLength").value_or(0);
    if (offset > room || length > room - offset)
      refuse(fmt::format("glTF buffer view {} reaches beyond its buffer", number));
  }

  std::uint64_t item_size(const json& object, std::size_t number) const {
    std::uint64_t one = 0;
    switch (whole(object, "componentType").value_or(0)) {
    case 5120:
    case 5121:
      one = 1;
      break;
    case 5122:
    case 5123:
      one = 2;
      break;
    case 5125:
    case 5126:
      one = 4;
      break;
    default:
      refuse(fmt::format("glTF accessor {} has an unknown component type", number));
    }
    struct Shape {
      const char* name;
      std::uint64_t numbers;
    };
    static constexpr Shape kShapes[] = {{"SCALAR", 1}, {"VEC2", 2}, {"VEC3", 3}, {"VEC4", 4},
                                        {"MAT2", 4},   {"MAT3", 9}, {"MAT4", 16}};
    const auto type = object.find("type");
    for (const Shape& shape : kShapes)
      if (type != object.end() && type->is_string() &&
          type->get_ref<const std::string&>() == shape.name)
        return one * shape.numbers;
    refuse(fmt::format("glTF accessor {} has an unknown type", number));
  }

  void accessor(const json& object, const json& views, std::size_t number) const {
    const std::uint64_t size = item_size(object, number);
    const std::uint64_t count = whole(object, "count").value_or(0);
    const auto which = whole(object, "bufferView");
    if (!which || count == 0)
      return;
    if (*which >= views.size())
      refuse(fmt::format("glTF accessor {} names no buffer view", number));
    const json& view = views[*which];
    const std::uint64_t room = whole(view, "byteLength").value_or(0);
    const std::uint64_t step = whole(view, "byteStride").value_or(size);
    const std::uint64_t offset = whole(object, "byteOffset").value_or(0);
    // offset + (count - 1) * step + size <= room, without overflow
    if (offset > room || size > room - offset || step == 0 ||
        count - 1 > (room - offset - size) / step)
      refuse(fmt::format("glTF accessor {} reaches beyond its buffer view", number));
  }

  void node(const json& object) const {
    struct Row {
      const char* name;
      std::size_t numbers;
    };
    for (const Row& row :
         {Row{"matrix", 16}, Row{"scale", 3}, Row{"rotation", 4}, Row{"translation", 3}}) {
      const auto found = object.find(row.name);
      if (found == object.end())
        continue;
      bool good = found->is_array() && found->size() == row.numbers;
      if (good)
        for (const json& n : *found)
          good = good && n.is_number();
      if (!good)
        refuse(fmt::format("glTF node has a {} that is not {} numbers", row.name, row.numbers));
    }
  }

  const MappedFile& file_;
  std::optional<std::string_view> binary_;
};

} // namespace

void refuse_gltf(const MappedFile& file, std::string_view what) {
  refuse_file(file.path(), what, "the file is damaged or malformed: export the mesh again");
}

const json& gltf_list(const MappedFile& file, const json& object, const char* name) {
  static const json kNone = json::array();
  const auto found = object.find(name);
  if (found == object.end())
    return kNone;
  if (!found->is_array())
    refuse_gltf(file, fmt::format("glTF \"{}\" is not a list", name));
  for (const json& item : *found)
    if (!item.is_object())
      refuse_gltf(file, fmt::format("glTF \"{}\" holds something else than objects", name));
  return *found;
}

std::optional<std::uint64_t> gltf_whole(const MappedFile& file, const json& object,
                                        const char* name) {
  const auto found = object.find(name);
  if (found == object.end())
    return std::nullopt;
  if (!found->is_number_unsigned())
    refuse_gltf(file, fmt::format("glTF \"{}\" is not a whole number", name));
  return found->get<std::uint64_t>();
}

GltfDocument open_gltf(const MappedFile& file) {
  return GltfCheck(file).run();
}

} // namespace leastwall
