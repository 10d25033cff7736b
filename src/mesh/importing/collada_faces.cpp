#include "mesh/importing/collada_faces.h"

#include "base/file/refuse_file.h"
#include "mesh/syntax/mesh_text.h"
#include "mesh/syntax/xml_tag.h"
#include "mesh/syntax/xml_text.h"

#include <algorithm>
#include <charconv>
#include <fmt/format.h>
#include <map>
#include <optional>
#include <string>
#include <vector>

namespace leastwall {
namespace {

constexpr std::string_view kBlanks = " \t\r\n";
constexpr std::size_t kMaxLevels = 500, kTwice = static_cast<std::size_t>(-1);
constexpr std::string_view kPlain = "export the surface as a plain mesh, best as binary STL or PLY";

/// Calls take(word) for each word of a list.
template <class Take> void for_each_word(std::string_view list, const Take& take) {
  for (std::size_t at = 0; (at = list.find_first_not_of(kBlanks, at)) != list.npos;) {
    const std::size_t end = std::min(list.find_first_of(kBlanks, at), list.size());
    take(list.substr(at, end - at));
    at = end;
  }
}

template <class Number> std::optional<Number> number_in(std::string_view word) {
  if (word.size() > 1 && word[0] == '+' && word[1] != '-')
    word.remove_prefix(1);
  Number value{};
  const auto [end, error] = std::from_chars(word.data(), word.data() + word.size(), value);
  if (word.empty() || error != std::errc{} || end != word.data() + word.size())
    return std::nullopt;
  return value;
}

struct Primitive {
  std::string_view kind;                ///< empty: none is open
  std::uint64_t count = 0;              ///< that it announces
  std::uint64_t stride = 1;             ///< numbers for each corner
  std::vector<std::uint64_t> in;        ///< numbers in each of its lists p
  std::uint64_t sizes = 0, corners = 0; ///< of its list vcount
};

struct Node {
  FaceCount own;
  std::vector<std::string_view> geometries, nodes; ///< that it places, by their names
  std::vector<std::size_t> children;
  enum class State { fresh, open, done } state = State::fresh;
};

class Faces {
 public:
  explicit Faces(const MappedFile& file) : file_(file) {}

  FaceCount run() {
    if (!for_each_tag(mesh_text(file_, "COLLADA"),
                      [this](std::string_view tag, std::string_view text) { take(tag, text); }) ||
        !open_.empty())
      refuse("COLLADA file ends too early");
    for (const std::string_view source : positions_)
      if (const auto found = axes_.find(source); found == axes_.end() || found->second != "XYZ")
        refuse_file(file_.path(), "COLLADA positions that are not X, Y and Z are not read", kPlain);
    if (scene_.empty())
      refuse("COLLADA file has no scene");
    return placed(node_named(scene_));
  }

 private:
  [[noreturn]] void refuse(std::string_view what) const {
    refuse_file(file_.path(), what, "the file is damaged or malformed: export the mesh again");
  }
  [[noreturn]] void not_read(std::string_view what) const {
    refuse_file(file_.path(), fmt::format("COLLADA with {} is not read here", what), kPlain);
  }

  std::uint64_t whole(std::string_view tag, std::string_view name, std::uint64_t otherwise) const {
    const auto word = plain_attribute(tag, name);
    if (!word)
      return otherwise;
    const auto value = number_in<std::uint64_t>(*word);
    if (!value || *value > 0xffffffffu)
      refuse(fmt::format("COLLADA {} \"{}\" is no whole number", name, one_line(*word, 40)));
    return *value;
  }

  /// What "#name" names.
  std::string_view name_in(std::string_view tag, std::string_view attribute) const {
    const std::string_view url = plain_attribute(tag, attribute).value_or("");
    if (!url.starts_with('#'))
      not_read("parts in other files");
    return url.substr(1);
  }

  void take(std::string_view tag, std::string_view text) {
    if (tag.starts_with('/')) {
      const std::string_view name = tag_name(tag.substr(1));
      if (open_.empty() || open_.back() != name)
        refuse(
            fmt::format("COLLADA element </{}> ends where it was not begun", one_line(name, 40)));
      open_.pop_back();
      end(name);
      return;
    }
    if (tag.starts_with('!'))
      return;
    const std::string_view name = tag_name(tag);
    start(tag, name, text);
    if (tag.ends_with('/'))
      end(name);
    else if (open_.size() < kMaxLevels)
      open_.push_back(name);
    else
      refuse("COLLADA elements stand within each other too deeply");
  }

  void start(std::string_view tag, std::string_view name, std::string_view text) {
    const std::string_view parent = open_.empty() ? std::string_view() : open_.back();
    if (name == "geometry") {
      geometry_ = plain_attribute(tag, "id").value_or("");
      if (!geometries_.emplace(geometry_, FaceCount{}).second)
        refuse(fmt::format("COLLADA has two geometries \"{}\"", one_line(geometry_, 40)));
    } else if (is_primitive(name) && parent == "mesh") {
      primitive_ = {name, whole(tag, "count", 0), 1, {}, 0, 0};
    } else if (name == "input" && !primitive_.kind.empty()) {
      primitive_.stride = std::max(primitive_.stride, whole(tag, "offset", 0) + 1);
      if (primitive_.stride > 1000)
        refuse("COLLADA corner has more than a thousand numbers");
    } else if (name == "input" && parent == "vertices") {
      if (plain_attribute(tag, "semantic") == "POSITION")
        positions_.push_back(name_in(tag, "source"));
    } else if (name == "vcount") {
      for_each_word(text, [this](std::string_view word) {
        primitive_.corners += std::min<std::uint64_t>(
            number_in<std::uint64_t>(word).value_or(0xffffffffu), 0xffffffffu);
        ++primitive_.sizes;
      });
      if (primitive_.corners > 0xffffffffu)
        refuse("COLLADA polylist has too many corners");
    } else if (name == "p") {
      std::uint64_t words = 0;
      for_each_word(text, [&words](std::string_view) { ++words; });
      primitive_.in.push_back(words);
    } else if (name == "source") {
      source_ = plain_attribute(tag, "id").value_or("");
      axes_[source_].clear();
    } else if (name == "param" && parent == "accessor") {
      axes_[source_] += plain_attribute(tag, "name").value_or("?");
    } else if (name == "unit") {
      unit(tag);
    } else if (name == "node" || name == "visual_scene") {
      open_node(tag);
    } else {
      place(tag, name, text);
    }
  }

  void place(std::string_view tag, std::string_view name, std::string_view text) {
    if (name == "ph")
      not_read("holes in polygons");
    if (name == "convex_mesh" || name == "brep")
      not_read(fmt::format("<{}>", name));
    if (name == "instance_visual_scene")
      scene_ = name_in(tag, "url");
    if (nodes_open_.empty())
      return;
    struct Numbers {
      std::string_view of;
      std::uint64_t count;
    };
    for (const Numbers& n :
         {Numbers{"matrix", 16}, {"translate", 3}, {"rotate", 4}, {"scale", 3}, {"lookat", 9}}) {
      if (n.of != name)
        continue;
      std::uint64_t words = 0;
      for_each_word(text, [&](std::string_view word) {
        ++words;
        if (!number_in<double>(word))
          refuse(
              fmt::format("COLLADA {} holds \"{}\", which is no number", name, one_line(word, 40)));
      });
      if (words != n.count)
        refuse(fmt::format("COLLADA {} has {} numbers instead of {}", name, words, n.count));
    }
    if (name == "skew")
      not_read("skewed nodes");
    if (name == "instance_controller")
      not_read("skeletons or morphs");
    if (name == "instance_geometry")
      nodes_[nodes_open_.back()].geometries.push_back(name_in(tag, "url"));
    if (name == "instance_node")
      nodes_[nodes_open_.back()].nodes.push_back(name_in(tag, "url"));
  }

  void unit(std::string_view tag) {
    const auto word = plain_attribute(tag, "meter");
    const auto metres = word ? number_in<double>(*word) : std::optional<double>(1);
    if (!metres || !(*metres > 0) || !(*metres < 1e9))
      refuse(fmt::format("COLLADA unit is \"{}\" metres, which is no length",
                         one_line(word.value_or(""), 40)));
    if (metres_ && *metres_ != *metres)
      not_read("more than one unit");
    metres_ = metres;
  }

  void open_node(std::string_view tag) {
    if (!nodes_open_.empty())
      nodes_[nodes_open_.back()].children.push_back(nodes_.size());
    if (const auto id = plain_attribute(tag, "id"))
      if (const auto [at, is_new] = node_ids_.emplace(*id, nodes_.size()); !is_new)
        at->second = kTwice;
    nodes_open_.push_back(nodes_.size());
    nodes_.emplace_back();
  }

  void end(std::string_view name) {
    if (name == "node" || name == "visual_scene") {
      if (!nodes_open_.empty())
        nodes_open_.pop_back();
    } else if (!primitive_.kind.empty() && name == primitive_.kind) {
      const FaceCount more = faces_of(primitive_);
      FaceCount& sum = geometries_[geometry_];
      sum = {sum.faces + more.faces, sum.corners + more.corners};
      primitive_ = {};
    }
  }

  static bool is_primitive(std::string_view name) {
    static constexpr std::string_view kNames[] = {"triangles", "polylist", "polygons",  "tristrips",
                                                  "trifans",   "lines",    "linestrips"};
    return std::find(std::begin(kNames), std::end(kNames), name) != std::end(kNames);
  }

  FaceCount faces_of(const Primitive& p) const {
    const auto mismatch = [&p, this] {
      refuse(
          fmt::format("COLLADA {} do not hold the {} items that they announce", p.kind, p.count));
    };
    FaceCount sum;
    if (p.kind == "triangles" || p.kind == "lines" || p.kind == "polylist") {
      std::uint64_t words = 0;
      for (const std::uint64_t n : p.in)
        words += n;
      sum = {p.count, p.kind == "polylist" ? p.corners : p.count * (p.kind == "lines" ? 2 : 3)};
      if (words != sum.corners * p.stride || (p.kind == "polylist" && p.sizes != p.count))
        mismatch();
      return sum;
    }
    if (p.in.size() != p.count)
      mismatch();
    const std::uint64_t fewest = p.kind == "polygons" ? 1 : p.kind == "linestrips" ? 2 : 3;
    for (const std::uint64_t words : p.in) {
      const std::uint64_t n = words / p.stride;
      if (words % p.stride != 0 || n < fewest)
        mismatch();
      const std::uint64_t faces = p.kind == "polygons" ? 1 : n + 1 - fewest;
      sum.faces += faces;
      sum.corners += p.kind == "polygons" ? n : faces * fewest;
    }
    return sum;
  }

  std::size_t node_named(std::string_view name) const {
    const auto found = node_ids_.find(name);
    if (found == node_ids_.end() || found->second == kTwice)
      refuse(fmt::format("COLLADA places a node \"{}\", which is {}", one_line(name, 40),
                         found == node_ids_.end() ? "not there" : "there twice"));
    return found->second;
  }

  FaceCount placed(std::size_t number) {
    Node& node = nodes_[number];
    if (node.state == Node::State::done)
      return node.own;
    if (node.state == Node::State::open)
      refuse("a COLLADA node stands within itself");
    node.state = Node::State::open;
    if (++levels_ > kMaxLevels)
      refuse("COLLADA nodes stand within each other too deeply");
    const auto add = [&node, this](const FaceCount& more) {
      node.own = {node.own.faces + more.faces, node.own.corners + more.corners};
      if (node.own.corners > 0xffffffffu)
        refuse("COLLADA scene places too many faces");
    };
    for (const std::string_view name : node.geometries) {
      const auto found = geometries_.find(name);
      if (found == geometries_.end())
        refuse(fmt::format("COLLADA places a geometry \"{}\", which is not there",
                           one_line(name, 40)));
      add(found->second);
    }
    for (const std::string_view name : node.nodes)
      add(placed(node_named(name)));
    for (const std::size_t child : node.children)
      add(placed(child));
    node.state = Node::State::done;
    --levels_;
    return node.own;
  }

  const MappedFile& file_;
  std::vector<std::string_view> open_; ///< names of the elements that are not yet closed
  std::string_view geometry_, source_, scene_;
  Primitive primitive_;
  std::map<std::string_view, FaceCount> geometries_;
  std::map<std::string_view, std::string> axes_; ///< names of the numbers of each source
  std::vector<std::string_view> positions_;      ///< sources of positions
  std::vector<Node> nodes_;
  std::vector<std::size_t> nodes_open_;
  std::map<std::string_view, std::size_t> node_ids_;
  std::size_t levels_ = 0; ///< of nodes that are being counted
  std::optional<double> metres_;
};

} // namespace

FaceCount collada_faces(const MappedFile& file) {
  return Faces(file).run();
}

} // namespace leastwall
