#include "job/keys/known_keys.h"

#include "base/sane_size.h"
#include "job/keys/key_tables.h"

#include <algorithm>

namespace leastwall {
namespace {

bool holds_lengths(KeyType type) {
  switch (type) {
  case KeyType::length:
  case KeyType::uncertain:
  case KeyType::readings:
  case KeyType::point2:
  case KeyType::point3:
  case KeyType::lengths:
    return true;
  default:
    return false;
  }
}

} // namespace

std::span<const KnownKey> known_keys() {
  static const std::vector<KnownKey> keys = [] {
    std::vector<KnownKey> all;
    for (const auto& rows :
         {job_keys(), board_keys(), side_keys(), bed_keys(), flip_keys(), pour_keys(), part_keys()})
      all.insert(all.end(), rows.begin(), rows.end());
    for (KnownKey& key : all)
      if (holds_lengths(key.type)) {
        key.least = std::max(key.least, -kLargestLength_mm);
        key.most = std::min(key.most, kLargestLength_mm);
      }
    return all;
  }();
  return keys;
}

std::vector<const KnownKey*> keys_of(std::string_view schema) {
  std::vector<const KnownKey*> out;
  for (const KnownKey& key : known_keys())
    if (key.owner == schema)
      out.push_back(&key);
  return out;
}

const KnownKey* find_key(std::string_view schema, std::string_view name) {
  for (const KnownKey& key : known_keys())
    if (key.owner == schema && key.name == name)
      return &key;
  return nullptr;
}

std::string_view wanted(const KnownKey& key) {
  switch (key.type) {
  case KeyType::text:
    return "a text in quotes";
  case KeyType::choice:
    return "one of its words in quotes";
  case KeyType::whole:
    return "a whole number";
  case KeyType::number:
    return "a number";
  case KeyType::length:
    return "a length such as 0.5 or \"0.02 in\"";
  case KeyType::uncertain:
    return "a length such as 0.05 (limits +-), {limits = 0.05} or {standard = 0.03}";
  case KeyType::chance:
    return "a chance such as 0.05 or \"1 in 20\"";
  case KeyType::file:
    return "a file name in quotes";
  case KeyType::readings:
    return "a file name in quotes or a list of [x, y, reading]";
  case KeyType::point2:
    return "two lengths [x, y]";
  case KeyType::point3:
    return "three lengths [x, y, z]";
  case KeyType::lengths:
    return "one length or a list of two";
  case KeyType::table:
    return "a table";
  case KeyType::tables:
    return "tables under a header in double brackets";
  }
  return "a value";
}

} // namespace leastwall
