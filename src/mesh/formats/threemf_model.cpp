#include "mesh/formats/threemf_model.h"

#include "base/file/refuse_file.h"
#include "mesh/syntax/xml_stream.h"
#include "mesh/syntax/xml_tag.h"
#include "mesh/syntax/zip_entry.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <fmt/format.h>
#include <map>

namespace leastwall {
namespace {

constexpr std::string_view kAgain = "export the mesh again";
constexpr std::string_view kBlanks = " \t\r\n";
constexpr std::size_t kLongestTag = 1 << 20, kMaxLevels = 100;

std::string root_part(const MappedFile& file) {
  std::string part;
  XmlStream tags;
  read_zip_entry(file, "_rels/.rels", [&](std::string_view piece) {
    tags.add(piece, [&](std::string_view tag) {
      const auto type = plain_attribute(tag, "Type"), target = plain_attribute(tag, "Target");
      if (part.empty() && type && target && type->ends_with("/3dmodel"))
        part = *target;
    });
  });
  return part.empty() ? "3D/3dmodel.model" : part;
}

/// Name of the element, prefix included, of a start or an end tag.
std::string_view full_name(std::string_view tag) {
  tag.remove_prefix(tag.starts_with('/') ? 1 : 0);
  return tag.substr(0, tag.find_first_of(" \t\r\n/"));
}

class ModelReader {
 public:
  ModelReader(const MappedFile& file, std::uint64_t max_bytes)
      : file_(file), max_bytes_(max_bytes) {}

  void tag(std::string_view tag) {
    const std::string_view name = full_name(tag);
    if (tag.starts_with('/')) {
      if (open_.empty() || open_.back() != name)
        refuse(fmt::format("3MF element </{}> ends where it was not begun", one_line(name, 40)));
      open_.pop_back();
      return;
    }
    if (!model_seen_) {
      if (tag_name(tag) != "model")
        refuse("3MF model part has no model (or is not UTF-8)");
      model_seen_ = true;
      prefix_ = name.substr(0, name.size() - 5);
      unit(tag);
      extensions(tag);
    } else if (open_.empty()) {
      refuse("3MF model part goes on after its model");
    } else if (name.starts_with(prefix_) && name.find(':', prefix_.size()) == name.npos) {
      element(tag, name.substr(prefix_.size()));
    } else if (tag_name(tag) == "beamlattice") {
      refuse("3MF mesh with beams is not read");
    }
    if (!tag.ends_with('/')) {
      if (open_.size() > kMaxLevels)
        refuse("3MF elements stand within each other too deeply");
      open_.emplace_back(name);
    }
  }

  ThreemfModel finish() {
    if (!model_seen_)
      refuse("3MF model part has no model (or is not UTF-8)");
    if (!open_.empty())
      refuse(fmt::format("3MF model part ends within <{}>", one_line(open_.back(), 40)));
    for (const ThreemfObject& object : model_.objects)
      if (!object.has_mesh && object.components.empty())
        refuse(fmt::format("3MF object {} holds neither a mesh nor components", object.id));
    return std::move(model_);
  }

  [[noreturn]] void refuse(std::string_view what) const { refuse_file(file_.path(), what, kAgain); }

 private:
  bool within(std::string_view parent) const {
    return open_.back().size() == prefix_.size() + parent.size() && open_.back().ends_with(parent);
  }

  void element(std::string_view tag, std::string_view name) {
    struct Kind {
      std::string_view name, parent;
      void (ModelReader::*take)(std::string_view);
    };
    static constexpr Kind kKinds[] = {{"vertex", "vertices", &ModelReader::vertex},
                                      {"triangle", "triangles", &ModelReader::triangle},
                                      {"vertices", "mesh", nullptr},
                                      {"triangles", "mesh", nullptr},
                                      {"mesh", "object", &ModelReader::mesh},
                                      {"components", "object", nullptr},
                                      {"component", "components", &ModelReader::component},
                                      {"object", "resources", &ModelReader::object},
                                      {"resources", "model", nullptr},
                                      {"build", "model", nullptr},
                                      {"item", "build", &ModelReader::item}};
    for (const Kind& kind : kKinds) {
      if (kind.name != name)
        continue;
      if (!within(kind.parent))
        refuse(fmt::format("3MF <{}> stands outside <{}>", name, kind.parent));
      if (kind.take != nullptr)
        (this->*kind.take)(tag);
    }
  }

  void unit(std::string_view tag) {
    struct Unit {
      std::string_view stated, in_text;
      double mm;
    };
    static constexpr Unit kUnits[] = {
        {"micron", "micron", 0.001},      {"millimeter", "millimetre", 1},
        {"centimeter", "centimetre", 10}, {"inch", "inch", 25.4},
        {"foot", "foot", 304.8},          {"meter", "metre", 1000}};
    const auto stated = plain_attribute(tag, "unit");
    if (!stated)
      return;
    for (const Unit& u : kUnits) {
      if (u.stated == *stated) {
        model_.mm_per_unit = u.mm;
        model_.unit = u.in_text;
        return;
      }
    }
    refuse_file(file_.path(), fmt::format("3MF unit \"{}\" is unknown", one_line(*stated, 40)),
                "export it in millimetres");
  }

  /// What the file cannot do without: looks and names of parts change no surface.
  void extensions(std::string_view tag) const {
    std::string_view list = plain_attribute(tag, "requiredextensions").value_or("");
    while (list.find_first_not_of(kBlanks) != list.npos) {
      list.remove_prefix(list.find_first_not_of(kBlanks));
      const std::string_view prefix = list.substr(0, list.find_first_of(kBlanks));
      list.remove_prefix(prefix.size());
      const auto space = plain_attribute(tag, "xmlns:" + std::string(prefix)).value_or(prefix);
      bool harmless = false;
      for (const std::string_view word : {"/material/", "/production/", "/trianglesets/"})
        harmless = harmless || space.find(word) != space.npos;
      if (!harmless)
        refuse_file(file_.path(),
                    fmt::format("3MF needs the extension \"{}\", which is not read here",
                                one_line(space, 100)),
                    "export it as one plain 3MF model, or as binary STL");
    }
  }

  std::string_view needed(std::string_view tag, std::string_view name) const {
    const auto value = plain_attribute(tag, name);
    if (!value)
      refuse(fmt::format("3MF <{}> lacks \"{}\"", one_line(full_name(tag), 40), name));
    return *value;
  }

  double number(std::string_view word, std::string_view of) const {
    std::string_view digits = word;
    if (digits.size() > 1 && digits[0] == '+' && digits[1] != '-')
      digits.remove_prefix(1);
    double value = 0;
    const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
    if (digits.empty() || error != std::errc{} || end != digits.data() + digits.size() ||
        !std::isfinite(value))
      refuse(fmt::format("3MF {} holds \"{}\", which is no number", of, one_line(word, 40)));
    return value;
  }

  std::uint64_t whole(std::string_view tag, std::string_view name) const {
    const std::string_view word = needed(tag, name);
    std::uint64_t value = 0;
    const auto [end, error] = std::from_chars(word.data(), word.data() + word.size(), value);
    if (word.empty() || error != std::errc{} || end != word.data() + word.size())
      refuse(fmt::format("3MF {} \"{}\" is no whole number", name, one_line(word, 40)));
    return value;
  }

  void take_room(std::uint64_t bytes) {
    bytes_ += bytes;
    if (bytes_ > max_bytes_)
      refuse_file(file_.path(), "the mesh is larger than the memory allowed for the import",
                  "decimate it, or export it as binary STL");
  }

  void object(std::string_view tag) {
    ThreemfObject object;
    object.id = whole(tag, "id");
    const std::string_view type = plain_attribute(tag, "type").value_or("model");
    object.solid = type == "model" || type == "solidsupport";
    if (!object.solid && type != "support" && type != "surface" && type != "other")
      refuse(fmt::format("3MF object type \"{}\" is unknown", one_line(type, 40)));
    if (!places_.emplace(object.id, model_.objects.size()).second)
      refuse(fmt::format("3MF has two objects of number {}", object.id));
    take_room(sizeof object);
    model_.objects.push_back(std::move(object));
  }

  void mesh(std::string_view) {
    if (model_.objects.back().has_mesh || !model_.objects.back().components.empty())
      refuse(fmt::format("3MF object {} holds more than one mesh", model_.objects.back().id));
    model_.objects.back().has_mesh = true;
  }

  void vertex(std::string_view tag) {
    take_room(sizeof(Vec3));
    model_.objects.back().mesh.vertices.push_back({number(needed(tag, "x"), "vertex"),
                                                   number(needed(tag, "y"), "vertex"),
                                                   number(needed(tag, "z"), "vertex")});
  }

  void triangle(std::string_view tag) {
    ThreemfObject& object = model_.objects.back();
    take_room(4 * sizeof(std::uint32_t));
    for (const std::string_view name : {"v1", "v2", "v3"}) {
      const std::uint64_t at = whole(tag, name);
      if (at >= object.mesh.vertices.size() || at > 0xfffffffe)
        refuse(fmt::format("3MF triangle {} of object {} names vertex {} of {} (counted from 0)",
                           object.mesh.sizes.size() + 1, object.id, at,
                           object.mesh.vertices.size()));
      object.mesh.corners.push_back(static_cast<std::uint32_t>(at));
    }
    object.mesh.sizes.push_back(3);
    ++object.facets;
  }

  ThreemfPlacing placing(std::string_view tag) const {
    if (attribute(tag, "path"))
      refuse_file(file_.path(),
                  "3MF keeps objects in other parts of the archive, which are not read",
                  "export it as one plain 3MF model, or as binary STL");
    const std::uint64_t id = whole(tag, "objectid");
    const auto found = places_.find(id);
    if (found == places_.end())
      refuse(fmt::format("3MF places object {}, which does not stand before that", id));
    ThreemfPlacing placing{found->second, {}};
    const auto matrix = plain_attribute(tag, "transform");
    if (!matrix)
      return placing;
    double m[12] = {};
    std::size_t count = 0;
    for (std::size_t at = 0; (at = matrix->find_first_not_of(kBlanks, at)) != matrix->npos;
         ++count) {
      const std::size_t end = std::min(matrix->find_first_of(kBlanks, at), matrix->size());
      const double value = number(matrix->substr(at, end - at), "transform");
      if (count < 12)
        m[count] = value;
      at = end;
    }
    if (count != 12)
      refuse(fmt::format("3MF transform has {} numbers instead of 12", count));
    // Rows are what x, y, z and the origin become.
    placing.map = {
        {m[0], m[1], m[2]}, {m[3], m[4], m[5]}, {m[6], m[7], m[8]}, {m[9], m[10], m[11]}};
    return placing;
  }

  void component(std::string_view tag) {
    const ThreemfPlacing part = placing(tag);
    ThreemfObject& object = model_.objects.back();
    if (part.object + 1 == model_.objects.size())
      refuse(fmt::format("3MF object {} is a part of itself", object.id));
    if (object.has_mesh)
      refuse(fmt::format("3MF object {} holds a mesh and components", object.id));
    take_room(sizeof part);
    object.levels = std::max(object.levels, model_.objects[part.object].levels + 1);
    if (object.levels > kMaxLevels)
      refuse("3MF components stand within each other too deeply");
    object.facets += model_.objects[part.object].facets;
    if (object.facets > 0xffffffffu / 3)
      refuse(fmt::format("3MF object {} has too many facets", object.id));
    object.components.push_back(part);
  }

  void item(std::string_view tag) {
    take_room(sizeof(ThreemfPlacing));
    const std::string_view printable = plain_attribute(tag, "printable").value_or("1");
    (printable == "0" || printable == "false" ? model_.not_printable : model_.items)
        .push_back(placing(tag));
  }

  const MappedFile& file_;
  std::uint64_t max_bytes_, bytes_ = 0;
  bool model_seen_ = false;
  std::string prefix_;            ///< of the model's own elements, colon included
  std::vector<std::string> open_; ///< names of the elements that are not yet closed
  std::map<std::uint64_t, std::size_t> places_;
  ThreemfModel model_;
};

} // namespace

ThreemfModel read_threemf_model(const MappedFile& file, std::uint64_t max_bytes,
                                const RunContext& run) {
  const std::string part = root_part(file);
  XmlStream tags;
  ModelReader reader(file, max_bytes);
  const bool found = read_zip_entry(file, part, [&](std::string_view piece) {
    run.check();
    tags.add(piece, [&reader](std::string_view tag) { reader.tag(tag); });
    if (tags.unfinished() > kLongestTag)
      reader.refuse("3MF model part is not plain XML");
  });
  if (!found)
    reader.refuse(fmt::format("3MF archive lacks its model part \"{}\"", one_line(part, 80)));
  return reader.finish();
}

} // namespace leastwall
