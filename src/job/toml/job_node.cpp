#include "job/toml/job_node.h"

#include <array>

namespace leastwall {

const JobNode* JobNode::find(std::string_view key) const {
  if (const JobTable* entries = table())
    for (const auto& [name, node] : *entries)
      if (name == key)
        return &node;
  return nullptr;
}

std::string_view kind_of(const JobNode& node) {
  static constexpr std::array<std::string_view, 7> kinds = {
      "a text", "a whole number", "a number", "true or false", "a date", "a list", "a table"};
  return kinds.at(node.value.index());
}

} // namespace leastwall
