#include "job/keys/sample_text.h"

#include "job/keys/known_keys.h"

#include <algorithm>
#include <fmt/format.h>
#include <set>
#include <stdexcept>

namespace leastwall {
namespace {

constexpr std::size_t kColumns = 80;

/// Breaks `text` at blanks into comment lines.
std::string comment(std::string_view text) {
  std::string out;
  std::string line(1, '#');
  while (!text.empty()) {
    const std::string_view word = text.substr(0, text.find(' '));
    text.remove_prefix(std::min(text.size(), word.size() + 1));
    if (line.size() + 1 + word.size() > kColumns && line.size() > 1) {
      out += line + "\n";
      line.resize(1);
    }
    line += ' ';
    line += word;
  }
  return out + line + "\n";
}

std::string help_of(const KnownKey& key) {
  std::string text(key.help);
  if (!key.choices.empty()) {
    text += " (";
    for (std::size_t i = 0; i < key.choices.size(); ++i)
      text += fmt::format("{}\"{}\"", i > 0 ? ", " : "", key.choices[i]);
    text += ")";
  } else if (!key.unit.empty() && key.help.find(key.unit) == std::string_view::npos) {
    text += fmt::format(" Unit: {}.", key.unit);
  }
  return text;
}

class Writer {
 public:
  /// Without `suggested` only what is stated is written.
  Writer(const StatedValues& stated, const StatedValues* suggested)
      : stated_(stated), suggested_(suggested) {}

  /// The keys of one table, then the tables in it; `left_out`: the table itself is a comment.
  void table(std::string_view schema, const std::string& path, bool left_out) {
    explained_.insert(std::string(schema));
    for (const KnownKey* key : keys_of(schema)) {
      const std::string own =
          path.empty() ? std::string(key->name) : fmt::format("{}.{}", path, key->name);
      if (key->type == KeyType::table || key->type == KeyType::tables)
        child(*key, own, left_out);
      else
        value(*key, own);
    }
  }

  void check_all_used() const {
    for (const StatedValues* values : {&stated_, suggested_})
      if (values)
        for (const auto& [path, value] : *values)
          if (!used_.contains(path))
            throw std::logic_error("a sample states an unknown key: " + path);
  }

  std::string text;

 private:
  const std::string* find(const StatedValues& values, const std::string& path) {
    for (const auto& [name, value] : values)
      if (name == path) {
        used_.insert(path);
        return &value;
      }
    return nullptr;
  }

  void value(const KnownKey& key, const std::string& path) {
    const std::string* stated = find(stated_, path);
    if (!stated && !suggested_)
      return;
    if (explained_keys_.insert(&key).second)
      text += comment(help_of(key));
    const std::string* suggestion = suggested_ ? find(*suggested_, path) : nullptr;
    const std::string example = suggestion ? *suggestion : std::string(key.example);
    text += stated ? fmt::format("{} = {}\n", key.name, *stated)
                   : fmt::format("#{} = {}\n", key.name, example);
  }

  void child(const KnownKey& key, const std::string& path, bool left_out) {
    const bool out = find(stated_, path) == nullptr;
    if (left_out && !out)
      throw std::logic_error("a sample states a table in one that it leaves out: " + path);
    if (out && !suggested_)
      return;
    text += '\n';
    text += comment(help_of(key));
    text += key.type == KeyType::table ? fmt::format("{}[{}]\n", out ? "#" : "", path)
                                       : fmt::format("{}[[{}]]\n", out ? "#" : "", path);
    if (out && explained_.contains(std::string(key.schema)))
      text += "# Its keys are those explained above.\n";
    else
      table(key.schema, path, out);
  }

  const StatedValues& stated_;
  const StatedValues* suggested_;
  std::set<std::string> used_, explained_;
  std::set<const KnownKey*> explained_keys_;
};

} // namespace

namespace {

std::string written(std::string_view head, Writer writer) {
  while (!head.empty()) {
    const std::string_view line = head.substr(0, head.find('\n'));
    head.remove_prefix(std::min(head.size(), line.size() + 1));
    writer.text += comment(line);
  }
  writer.text += "\n";
  writer.table("", "", false);
  writer.check_all_used();
  return std::move(writer.text);
}

} // namespace

std::string sample_text(std::string_view head, const StatedValues& stated,
                        const StatedValues& suggested) {
  return written(head, Writer(stated, &suggested));
}

std::string short_sample_text(std::string_view head, const StatedValues& stated) {
  return written(head, Writer(stated, nullptr));
}

} // namespace leastwall
