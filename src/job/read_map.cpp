#include "job/key_value.h"
#include "job/lookups.h"
#include "job/read_tables.h"

namespace leastwall {

std::shared_ptr<const BedMap> read_map(const TableReader& table, std::string_view name) {
  JobSource& source = table.source();
  const JobNode& node = *table.node(name);
  const std::string path = table.path_of(name);
  if (!node.text()) {
    const KnownKey& key = *find_key(table.schema(), name);
    const auto rows = rows_value(node, key, {source.file, source.unit, path});
    return std::make_shared<const BedMap>(BedMap::from_readings(rows));
  }
  const LookedUpMap found = look_up_readings(*table.file(name), table.schema() == "board");
  for (const std::string& fact : found.understood)
    source.assumptions.push_back(fmt::format("{} = \"{}\": {}", path, shown(*node.text()), fact));
  source.notices.insert(source.notices.end(), found.notices.begin(), found.notices.end());
  return found.map;
}

} // namespace leastwall
