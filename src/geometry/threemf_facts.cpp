#include "geometry/threemf_facts.h"

#include "geometry/refuse_file.h"
#include "geometry/text_scanner.h"
#include "geometry/xml_tag.h"
#include "geometry/zip_entry.h"

#include <fmt/format.h>
#include <optional>

namespace leastwall {
namespace {

/// Start tags of XML text that comes in pieces.
class TagStream {
 public:
  template <class Body> void add(std::string_view piece, const Body& on_tag) {
    pending_ += piece;
    std::size_t at = 0;
    for (;;) {
      const std::size_t open = pending_.find('<', at);
      if (open == pending_.npos) {
        at = pending_.size();
        break;
      }
      const bool comment = pending_.compare(open, 4, "<!--") == 0;
      const std::size_t close = comment ? pending_.find("-->", open + 4) : end_of_tag(open);
      if (close == pending_.npos || pending_.size() - open < 4) {
        at = open;
        break;
      }
      if (!comment)
        on_tag(std::string_view(pending_).substr(open + 1, close - open - 1));
      at = close + (comment ? 3 : 1);
    }
    pending_.erase(0, at);
  }
  std::size_t unfinished() const { return pending_.size(); }

 private:
  /// The '>' that ends the tag, not one within quotes.
  std::size_t end_of_tag(std::size_t open) const {
    char quote = 0;
    for (std::size_t i = open; i < pending_.size(); ++i) {
      const char c = pending_[i];
      if (quote != 0)
        quote = c == quote ? '\0' : quote;
      else if (c == '"' || c == '\'')
        quote = c;
      else if (c == '>')
        return i;
    }
    return pending_.npos;
  }

  std::string pending_;
};

std::string root_part(const MappedFile& file) {
  std::string part;
  TagStream tags;
  read_zip_entry(file, "_rels/.rels", [&](std::string_view piece) {
    tags.add(piece, [&](std::string_view tag) {
      const auto type = attribute(tag, "Type"), target = attribute(tag, "Target");
      if (part.empty() && type && target && type->ends_with("/3dmodel"))
        part = *target;
    });
  });
  return part.empty() ? "3D/3dmodel.model" : part;
}

void take_unit(const MappedFile& file, std::string_view tag, ThreemfFacts& facts) {
  struct Unit {
    std::string_view stated, in_words;
    double mm;
  };
  static constexpr Unit kUnits[] = {
      {"micron", "micron", 0.001},      {"millimeter", "millimetre", 1},
      {"centimeter", "centimetre", 10}, {"inch", "inch", 25.4},
      {"foot", "foot", 304.8},          {"meter", "metre", 1000}};
  const auto unit = attribute(tag, "unit");
  if (!unit)
    return;
  for (const Unit& u : kUnits) {
    if (u.stated == *unit) {
      facts = {u.mm, std::string(u.in_words)};
      return;
    }
  }
  refuse_file(file.path(), fmt::format("3MF unit \"{}\" is unknown", one_line(*unit, 40)),
              "export it in millimetres");
}

void check_placement(const MappedFile& file, std::string_view tag) {
  if (attribute(tag, "path"))
    refuse_file(file.path(), "3MF keeps objects in other parts of the archive, which are not read",
                "export it as one plain 3MF model, or as binary STL");
  const auto matrix = attribute(tag, "transform");
  if (!matrix)
    return;
  TextScanner text(*matrix, file.path());
  int numbers = 0;
  while (!(text.skip_blank_lines(), text.left().empty())) {
    text.number();
    ++numbers;
  }
  if (numbers != 12)
    refuse_file(file.path(), fmt::format("3MF transform has {} numbers instead of 12", numbers),
                "export the mesh again");
}

} // namespace

ThreemfFacts read_threemf_facts(const MappedFile& file) {
  constexpr std::size_t kLongestTag = 1 << 20;
  ThreemfFacts facts;
  const std::string part = root_part(file);
  TagStream tags;
  bool model_seen = false;
  const bool found = read_zip_entry(file, part, [&](std::string_view piece) {
    tags.add(piece, [&](std::string_view tag) {
      const std::string_view name = tag_name(tag);
      if (name == "model" && !model_seen) {
        model_seen = true;
        take_unit(file, tag, facts);
      } else if (name == "item" || name == "component") {
        check_placement(file, tag);
      }
    });
    if (tags.unfinished() > kLongestTag)
      refuse_file(file.path(), "3MF model part is not plain XML", "export the mesh again");
  });
  if (!found)
    refuse_file(file.path(),
                fmt::format("3MF archive lacks its model part \"{}\"", one_line(part, 80)),
                "export the mesh again");
  if (!model_seen)
    refuse_file(file.path(), "3MF model part has no model (or is not UTF-8)",
                "export the mesh again");
  return facts;
}

} // namespace leastwall
