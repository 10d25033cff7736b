#include "job/keys/check_keys.h"

#include "job/keys/key_value.h"
#include "job/keys/nearest_key.h"
#include "job/toml/job_error.h"

namespace leastwall {
namespace {

std::string in_table(std::string_view path) {
  return path.empty() ? std::string("at the top of the file") : fmt::format("in [{}]", path);
}

/// The first table of the file whose keys have this name, as the user writes it; empty when none.
std::string where_known(std::string_view name) {
  for (const KnownKey& key : known_keys()) {
    if (key.name != name)
      continue;
    if (key.owner.empty())
      return "the top of the file, above the first [table]";
    for (const KnownKey& holder : known_keys())
      if (holder.schema == key.owner)
        return fmt::format("[{}{}{}]",
                           holder.owner == "side" ? std::string_view("side_a") : holder.owner,
                           holder.owner.empty() ? "" : ".", holder.name);
  }
  return {};
}

[[noreturn]] void unknown(std::string_view name, int line, std::string_view schema,
                          std::string_view path, std::string_view file) {
  std::vector<std::string_view> names;
  std::string list;
  for (const KnownKey* key : keys_of(schema)) {
    names.push_back(key->name);
    list += fmt::format("{}{}", list.empty() ? "" : ", ", key->name);
  }
  const std::string_view near = nearest(name, names);
  const std::string elsewhere = where_known(name);
  std::string advice;
  if (!near.empty())
    advice = fmt::format("did you mean \"{}\"?", near);
  else if (!elsewhere.empty())
    advice = fmt::format("it belongs to {}", elsewhere);
  else
    advice = fmt::format("the keys here are {}", list);
  throw job_error(file, line,
                  fmt::format("unknown key \"{}\" {}; {}", shown(name), in_table(path), advice));
}

void check_table(const JobNode& node, std::string_view schema, const std::string& path,
                 LengthUnit unit, std::string_view file) {
  for (const auto& [name, value] : *node.table()) {
    const KnownKey* key = find_key(schema, name);
    if (!key)
      unknown(name, value.line, schema, path, file);
    const std::string own = path.empty() ? name : path + "." + name;
    if (key->type == KeyType::table) {
      if (!value.table())
        throw job_error(file, value.line,
                        fmt::format("{} is {}; write a table: [{}]", own, kind_of(value), own));
      check_table(value, key->schema, own, unit, file);
    } else if (key->type == KeyType::tables) {
      const JobArray* items = value.array();
      bool good = items != nullptr;
      if (items)
        for (const JobNode& item : *items)
          good = good && item.table();
      if (!good)
        throw job_error(
            file, value.line,
            fmt::format("{} is {}; write double brackets: [[{}]]", own, kind_of(value), own));
      for (const JobNode& item : *items)
        check_table(item, key->schema, own, unit, file);
    } else {
      check_value(value, *key, {file, unit, own});
    }
  }
}

} // namespace

void check_keys(const JobNode& root, LengthUnit unit, std::string_view file) {
  check_table(root, "", "", unit, file);
}

} // namespace leastwall
